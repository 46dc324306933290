using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Watch;

/// <summary>
/// Tries typed limits on a past season of one station: the watch's own engine sees the stored reports in the order in which they
/// arrived, once with today's limits and once with the typed ones.
/// </summary>
public sealed partial class TryRules(
    IDbContextFactory<FleetDbContext> databases,
    StationSetupReader setups,
    MeasurementReader measurements,
    TrialDesk desk,
    RunTrial run,
    FleetClock clock,
    IOptions<SeasonOptions> seasons,
    IOptions<FleetOptions> fleet,
    ILogger<TryRules> logger)
{
    /// <param name="Typed">The station and the typed limits.</param>
    /// <param name="Year">The season's year.</param>
    public sealed record Query(SaveRules.Command Typed, int Year);

    /// <param name="Share">How much of the season is tried, 0 to 1.</param>
    /// <param name="Left">How long the rest may take; null while what arrived before the season is read.</param>
    public sealed record Progress(double Share, TimeSpan? Left);

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Tried(TriedSeason Season) : Outcome;

        /// <summary>The typed limits are today's.</summary>
        public sealed record NothingChanged : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        /// <summary>No raw measurement of that season is there, or not any more.</summary>
        public sealed record NoMeasurements : Outcome;

        /// <summary>The same person began another trial.</summary>
        public sealed record GaveWay : Outcome;

        /// <summary>Something is broken; what was typed is not lost for it.</summary>
        public sealed record Failed : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Query query, IProgress<Progress> progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        if (!viewer.MayChangeFleet() || !await SeesAsync(viewer, query.Typed.Station, cancel)
            || await setups.ReadHistoryAsync(query.Typed.Station, fleet.Value.Zone, cancel) is not { } history)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        RuleSettings limits = SaveRules.Read(query.Typed, typed);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (limits == history.Always.Rules)
        {
            return new Outcome.NothingChanged();
        }

        if (await SpanAsync(history, seasons.Value.Of(query.Year), cancel) is not { } span)
        {
            return new Outcome.NoMeasurements();
        }

        try
        {
            (StationTrial today, StationTrial others) = await desk.RunAsync(
                viewer.UserId, stop => run.HandleAsync(history, limits, span, progress, stop), cancel);
            return new Outcome.Tried(new TriedWords(history, limits, fleet.Value.Units, span).Of(query.Year, today, others));
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new Outcome.GaveWay();
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            LogFailed(history.Station.Code, failure);
            return new Outcome.Failed();
        }
    }

    private async Task<bool> SeesAsync(Viewer viewer, StationId station, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Stations.VisibleTo(viewer).AnyAsync(row => row.Id == station, cancel);
    }

    // Raw measurements may begin within the season: the station is new, or what is older was purged.
    private async Task<TriedSpan?> SpanAsync(StationSetupHistory history, Season season, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        TimeZoneInfo zone = history.ZoneAt(LocalCalendar.StartOf(season.FirstDay, fleet.Value.Zone));
        if (season.Window(zone, now) is not { } window
            || await measurements.RawFromAsync(history.Station.Id, cancel) is not { } first
            || first >= window.End)
        {
            return null;
        }

        bool isShortened = first > window.Start;
        return new TriedSpan(isShortened ? first : window.Start, window.End, isShortened, window.End == now);
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Limits of {Code} could not be tried.")]
    private partial void LogFailed(string code, Exception failure);
}
