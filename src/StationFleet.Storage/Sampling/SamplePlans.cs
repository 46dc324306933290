using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Sampling;

/// <summary>Follows planned samples through what happened to the tanks.</summary>
public static class SamplePlans
{
    /// <summary>How each planned sample stands, by its station.</summary>
    /// <param name="db">The database.</param>
    /// <param name="plans">All plans of their stations from a day on, dismissed ones too: each taking ends one.</param>
    /// <param name="zoneOf">The time zone of a station's days.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<ILookup<StationId, PlannedTaking>> FollowAsync(
        this FleetDbContext db, IReadOnlyCollection<SamplePlan> plans, Func<StationId, TimeZoneInfo> zoneOf, CancellationToken cancel)
    {
        if (plans.Count == 0)
        {
            return Array.Empty<(StationId, PlannedTaking)>().ToLookup(one => one.Item1, one => one.Item2);
        }

        StationId[] stations = [.. plans.Select(plan => plan.StationId).Distinct()];

        // A day's width covers every time zone.
        DateTimeOffset from = new(plans.Min(plan => plan.From).AddDays(-1), TimeOnly.MinValue, TimeSpan.Zero);
        ILookup<StationId, DateTimeOffset> grabs = (await db.Samples.AsNoTracking()
            .Where(sample => stations.Contains(sample.StationId) && sample.Kind == SampleKind.Grab && sample.TakenAt >= from)
            .Select(sample => new { sample.StationId, sample.TakenAt }).ToListAsync(cancel)).ToLookup(row => row.StationId, row => row.TakenAt);
        ILookup<StationId, DateTimeOffset> emptyings = (await db.PumpOuts.AsNoTracking()
            .Where(pumpOut => stations.Contains(pumpOut.StationId) && pumpOut.At >= from)
            .Select(pumpOut => new { pumpOut.StationId, pumpOut.At }).ToListAsync(cancel)).ToLookup(row => row.StationId, row => row.At);
        return (
            from station in plans.GroupBy(plan => plan.StationId)
            from taking in PlannedTaking.Follow(station.Select(plan => plan.ToTaking()), grabs[station.Key], emptyings[station.Key], zoneOf(station.Key))
            select (station.Key, taking)).ToLookup(one => one.Key, one => one.taking);
    }
}
