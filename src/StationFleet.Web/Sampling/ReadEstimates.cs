using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>The removal estimates of one station's tank waters, or of the water of one sample.</summary>
public sealed class ReadEstimates(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int Shown = 12;

    /// <param name="Sentence">The estimate, or why there is none.</param>
    /// <param name="Labels">What must be said beside it.</param>
    /// <param name="Basis">What the interval allows for; empty without one.</param>
    /// <param name="Steps">How it was made.</param>
    /// <param name="Samples">The grabs behind it.</param>
    public sealed record Estimate(
        string Sentence, IReadOnlyList<string> Labels, string Basis, IReadOnlyList<string> Steps, IReadOnlyList<string> Samples);

    /// <summary>Estimates of a station's newest waters, newest first; what was found before what was not.</summary>
    /// <param name="viewer">Who asks.</param>
    /// <param name="station">The station's code.</param>
    /// <param name="sample">The code of a sample: then of its water alone.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyList<Estimate>> HandleAsync(Viewer viewer, string station, string? sample, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? one = await db.Stations.VisibleTo(viewer).AsNoTracking().SingleOrDefaultAsync(row => row.Code == station, cancel);
        if (one is null)
        {
            return [];
        }

        DateTimeOffset? taken = sample is null
            ? await db.Samples.Where(row => row.StationId == one.Id).MaxAsync(row => (DateTimeOffset?)row.TakenAt, cancel)
            : await db.Samples.Where(row => row.StationId == one.Id && row.Code == sample).Select(row => (DateTimeOffset?)row.TakenAt).FirstOrDefaultAsync(cancel);
        if (taken is not { } at)
        {
            return [];
        }

        int year = LocalCalendar.DateOf(at, options.Value.Zone).Year;
        IReadOnlyList<PlacedPeriod> periods = await PeriodsAsync(db, await TellingAsync(db, viewer, one.Id, year, cancel), year, now, options.Value.Zone, cancel);
        HashSet<TankPeriod> wanted =
        [
            .. periods.Where(period => period.Period.Station == station && (sample is null || period.Codes.Contains(sample))).Select(period => period.Period),
        ];
        return
        [
            .. SeasonEstimates.Of(periods.Select(period => period.Period)).Where(estimate => wanted.Contains(estimate.Period))
                .OrderByDescending(estimate => estimate.Period.To).ThenByDescending(estimate => estimate.Grabs.Count).Take(sample is null ? Shown : int.MaxValue)
                .Select(Of),
        ];
    }

    /// <summary>A year's periods of the stations that a person sees.</summary>
    internal static async Task<IReadOnlyList<PlacedPeriod>> PeriodsAsync(
        FleetDbContext db, Viewer viewer, int year, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel) => await PeriodsAsync(
            db, await db.Stations.VisibleTo(viewer).OrderBy(row => row.Code).Select(row => row.Id).ToListAsync(cancel), year, now, zone, cancel);

    private static Task<IReadOnlyList<PlacedPeriod>> PeriodsAsync(
        FleetDbContext db, IReadOnlyCollection<StationId> stations, int year, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        DateTimeOffset to = LocalCalendar.StartOf(new DateOnly(year + 1, 1, 1), zone);
        return db.TankPeriodsAsync(stations, LocalCalendar.StartOf(new DateOnly(year, 1, 1), zone), to < now ? to : now, cancel);
    }

    // One station's tanks, and those that teach patchiness: it is learnt from all replicate grabs of the year.
    private async Task<IReadOnlyCollection<StationId>> TellingAsync(FleetDbContext db, Viewer viewer, StationId station, int year, CancellationToken cancel)
    {
        DateTimeOffset from = LocalCalendar.StartOf(new DateOnly(year, 1, 1), options.Value.Zone).AddDays(-TankPeriods.DaysBefore);
        DateTimeOffset to = LocalCalendar.StartOf(new DateOnly(year + 1, 1, 1), options.Value.Zone);
        return await db.Stations.VisibleTo(viewer)
            .Where(row => row.Id == station || db.Samples.Count(
                sample => sample.StationId == row.Id && sample.Kind == SampleKind.Grab && sample.TakenAt >= from && sample.TakenAt < to) > 1)
            .OrderBy(row => row.Code).Select(row => row.Id).ToListAsync(cancel);
    }

    private Estimate Of(RemovalEstimate estimate) => estimate is RemovalEstimate.Made made
        ? new Estimate(
            EstimateWords.Sentence(made, options.Value.Units), [.. made.Labels.Select(EstimateWords.Label)], EstimateWords.Basis(made),
            EstimateWords.Steps(made, options.Value.Units), [.. made.Grabs.Grabs.Select(grab => grab.Id)])
        : new Estimate(EstimateWords.Sentence(estimate, options.Value.Units), [], "", [], [.. estimate.Grabs.Grabs.Select(grab => grab.Id)]);
}
