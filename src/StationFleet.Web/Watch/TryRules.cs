using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
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
public sealed class TryRules(
    IDbContextFactory<FleetDbContext> databases,
    StationSetupReader setups,
    WhatPeopleDidReader people,
    MeasurementReader measurements,
    TrialDesk desk,
    FleetClock clock,
    TimeProvider system,
    IOptions<WatchOptions> watch,
    IOptions<SeasonOptions> seasons,
    IOptions<FleetOptions> fleet)
{
    /// <summary>What was received so long before the season is known at its beginning: how the tools were used in the season before.</summary>
    private static readonly TimeSpan WarmUp = TimeSpan.FromDays(365);

    private const int ReportsAtOnce = 250;
    private static readonly TimeSpan TellEvery = TimeSpan.FromMilliseconds(150);

    /// <param name="Typed">The station and the typed limits.</param>
    /// <param name="Year">The season's year.</param>
    public sealed record Query(SaveRules.Command Typed, int Year);

    /// <param name="Share">How much of the season is tried, 0 to 1.</param>
    /// <param name="Left">How long the rest may take.</param>
    public sealed record Progress(double Share, TimeSpan Left);

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

        public sealed record NotAllowed : Outcome;
    }

    private sealed record Span(DateTimeOffset From, DateTimeOffset To, bool IsShortened, bool IsSoFar);

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

        if (limits == history.Rules)
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
                viewer.UserId, stop => RunAsync(history, limits, span, progress, stop), cancel);
            return new Outcome.Tried(new TriedWords(history, limits, fleet.Value.Units, span.To).Of(
                query.Year, (span.From, span.IsShortened, span.IsSoFar), today, others));
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new Outcome.GaveWay();
        }
    }

    private async Task<bool> SeesAsync(Viewer viewer, StationId station, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Stations.VisibleTo(viewer).AnyAsync(row => row.Id == station, cancel);
    }

    // Raw measurements may begin within the season: the station is new, or what is older was purged.
    private async Task<Span?> SpanAsync(StationSetupHistory history, Season season, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        TimeZoneInfo zone = history.At(LocalCalendar.StartOf(season.FirstDay, fleet.Value.Zone)).Zone;
        if (season.Window(zone, now) is not { } window
            || await measurements.FirstMeasuredAsync(history.Station.Id, cancel) is not { } first
            || first >= window.End)
        {
            return null;
        }

        bool isShortened = first > window.Start;
        return new Span(isShortened ? first : window.Start, window.End, isShortened, window.End == now);
    }

    private async Task<(StationTrial Today, StationTrial Others)> RunAsync(
        StationSetupHistory history, RuleSettings limits, Span span, IProgress<Progress> progress, CancellationToken cancel)
    {
        StationId station = history.Station.Id;
        long began = system.GetTimestamp();
        WhatPeopleDid did = await people.ReadAsync(station, span.From - WarmUp, span.To, cancel);
        StationTrial[] trials = [Begin(history.Rules), Begin(limits)];
        List<WatchReport> waiting = [];
        long last = await measurements.LastReportBeforeAsync(station, span.From - WarmUp, cancel);
        TimeSpan? told = null;
        while (true)
        {
            IReadOnlyList<ReceivedReport> reports = await measurements.NewReportsAsync(station, last, ReportsAtOnce, cancel);
            waiting.AddRange(reports.Where(report => report.Received <= span.To).Select(report => report.ToWatch()));
            bool isEnd = reports.Count < ReportsAtOnce || reports[^1].Received > span.To;
            DateTimeOffset until = isEnd ? span.To : reports.Max(report => report.Received);
            if (until > span.From)
            {
                foreach (StationTrial trial in trials)
                {
                    cancel.ThrowIfCancellationRequested();
                    trial.Run(waiting, until);
                }

                waiting.Clear();
            }

            if (isEnd)
            {
                return (trials[0], trials[1]);
            }

            last = reports[^1].Id;
            TimeSpan elapsed = system.GetElapsedTime(began);
            double share = Math.Max(0, (until - span.From) / (span.To - span.From));
            if (share > 0 && !(elapsed - told < TellEvery))
            {
                told = elapsed;
                progress.Report(new Progress(share, elapsed * ((1 - share) / share)));
            }
        }

        StationTrial Begin(RuleSettings rules) => new(
            TrialSetup.Changing(at => history.At(at) with { Rules = rules }, history.Changes), span.From, watch.Value.Every, people: did);
    }
}
