using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Fleet;

/// <summary>Where stations stand.</summary>
internal static class StandingAt
{
    /// <summary>The access of each station at an instant; a station in transit is not there.</summary>
    public static async Task<IReadOnlyDictionary<StationId, Access>> StandingAtAsync(this FleetDbContext db, DateTimeOffset at, CancellationToken cancel)
    {
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        List<Placement> placements = await db.Placements.AsNoTracking()
            .Where(placement => placement.From <= at && (placement.To == null || placement.To > at)).OrderBy(placement => placement.From).ToListAsync(cancel);
        return placements.GroupBy(placement => placement.StationId).ToDictionary(group => group.Key, group => accesses[group.Last().AccessId]);
    }

    /// <summary>The access where one station stands at an instant; null in transit.</summary>
    public static Task<Access?> AccessAtAsync(this FleetDbContext db, StationId station, DateTimeOffset at, CancellationToken cancel) =>
        db.Placements.AsNoTracking()
            .Where(placement => placement.StationId == station && placement.From <= at && (placement.To == null || placement.To > at))
            .OrderByDescending(placement => placement.From)
            .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (_, access) => access)
            .FirstOrDefaultAsync(cancel);
}
