using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Seasons;

/// <summary>Makes a season's report of the database: figures, the year before, what samples say, and what is to be known of the data.</summary>
public sealed class SeasonReportReader(IDbContextFactory<FleetDbContext> databases, SeasonReader seasons, SetAsideReader setAside)
{
    // Tank waters that end after the last day may have begun before it.
    private static readonly TimeSpan LongestWater = TimeSpan.FromDays(120);

    /// <summary>Makes the report.</summary>
    /// <param name="seen">All stations that the reader sees: what their samples scatter is learnt from all of them.</param>
    /// <param name="scope">The stations to count.</param>
    /// <param name="season">The season.</param>
    /// <param name="asOf">Nothing from this instant on is counted: now.</param>
    /// <param name="zone">The fleet's time zone.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<SeasonReport> ReadAsync(
        SeasonChoices seen, SeasonScope scope, Season season, DateTimeOffset asOf, TimeZoneInfo zone, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(season);
        StationId[] all = [.. seen.Stations.Select(station => station.Id)];
        (SeasonSummary summary, IReadOnlyList<SeasonRemoval> removals) = await ReadAsync(all, scope, season, asOf, zone, cancel);

        // Days of more than a year lie partly in their own year before: these would be compared with themselves.
        bool hadYearBefore = season.YearBefore.LastDay < season.FirstDay && scope.Stations.Any(station => LocalCalendar.DateOf(station.Created, zone) <= season.YearBefore.LastDay);
        (SeasonSummary? before, IReadOnlyList<SeasonRemoval> then) = hadYearBefore
            ? await ReadAsync(all, scope, season.YearBefore, asOf.AddYears(-1), zone, cancel)
            : (null, []);
        IReadOnlyDictionary<StationId, int> aside = await setAside.CountsAsync(
            scope.Ids, LocalCalendar.StartOf(season.FirstDay, zone), LocalCalendar.StartOf(season.LastDay.AddDays(1), zone), cancel);
        return new SeasonReport(summary)
        {
            Only = scope.Only,
            Shared = scope.Shared,
            Before = before,
            Changes = before is null ? [] : [.. SeasonComparison.Of(summary, before), .. SeasonComparison.Of(removals, then)],
            Quality = SeasonQuality.Of(summary, aside),
            Removals = removals,
        };
    }

    private async Task<(SeasonSummary Summary, IReadOnlyList<SeasonRemoval> Removals)> ReadAsync(
        StationId[] all, SeasonScope scope, Season season, DateTimeOffset asOf, TimeZoneInfo zone, CancellationToken cancel)
    {
        SeasonInput input = await seasons.ReadAsync(scope.Ids, season, asOf, cancel, scope.Access);
        DateTimeOffset from = LocalCalendar.StartOf(new DateOnly(season.FirstDay.Year, 1, 1), zone);
        DateTimeOffset to = LocalCalendar.StartOf(new DateOnly(season.LastDay.Year + 1, 1, 1), zone) + LongestWater;
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IReadOnlyList<PlacedPeriod> periods = await db.TankPeriodsAsync(all, from, to < asOf ? to : asOf, cancel);
        ReleasedOrganisms released = await ReleasedOrganisms.ReadAsync(db, cancel);
        ILookup<string, TaxonId> taxa = (await db.Taxa.Select(taxon => new { taxon.Id, taxon.Name }).ToListAsync(cancel)).ToLookup(taxon => taxon.Name, taxon => taxon.Id);
        return (SeasonSummary.Of(input), SeasonRemovals.Of(input, periods, (organism, water, day, isFound) => isFound
            ? taxa[organism.Taxon].Any(taxon => released.MayTellPresence(taxon, water, day))
            : taxa[organism.Taxon].All(taxon => released.MayTellAbsence(taxon, water))));
    }
}
