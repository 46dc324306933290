using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;

namespace StationFleet.Web.Sampling;

/// <summary>Planned samples that are open, with the time by which the watch wants them.</summary>
internal static class SamplesAhead
{
    private const int DaysLate = 120;

    /// <param name="By">The end of its last day, or before the tank is to be emptied.</param>
    /// <param name="IsBeforePumpOut">Whether the tank is to be emptied before its last day.</param>
    internal sealed record Due(PlannedTaking Taking, DateTimeOffset By, bool IsBeforePumpOut);

    /// <summary>Those that fall due before an instant, by station.</summary>
    public static async Task<ILookup<StationId, Due>> SamplesDueAsync(
        this FleetDbContext db, DateOnly today, DateTimeOffset before, Func<StationId, TimeZoneInfo> zoneOf, DateTimeOffset now, CancellationToken cancel)
    {
        DateOnly since = today.AddDays(-DaysLate);
        List<SamplePlan> plans = await db.SamplePlans.AsNoTracking().Where(plan => plan.Due >= since).ToListAsync(cancel);
        if (plans.Count == 0)
        {
            return Array.Empty<KeyValuePair<StationId, Due>>().ToLookup(one => one.Key, one => one.Value);
        }

        Dictionary<(StationId, string), SampleDueEvidence> judged = (await db.Problems.AsNoTracking().Where(problem => problem.Rule == Rule.SampleDue).ToListAsync(cancel))
            .ToDictionary(problem => (problem.StationId, problem.Part), problem => (SampleDueEvidence)WatchJson.Read<Evidence>(problem.Evidence));
        return (
            from station in await db.FollowAsync(plans, zoneOf, cancel)
            from taking in station
            where taking.IsOpen(now)
            let evidence = judged.GetValueOrDefault((station.Key, SampleDue.Part(taking)))
            let until = evidence?.By ?? taking.EndOfDue(zoneOf(station.Key))
            where until <= before
            orderby until
            select KeyValuePair.Create(station.Key, new Due(taking, until, evidence?.Tank is not null))).ToLookup(one => one.Key, one => one.Value);
    }
}
