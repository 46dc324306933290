using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Alone;

/// <summary>By whose clock a time to be back is meant: that of most accesses; without any, the fleet's.</summary>
internal static class OutingZone
{
    public static async Task<TimeZoneInfo> OfAsync(FleetDbContext db, FleetOptions options, CancellationToken cancel) =>
        await db.Accesses.GroupBy(access => access.TimeZone).OrderByDescending(group => group.Count()).ThenBy(group => group.Key)
            .Select(group => group.Key).FirstOrDefaultAsync(cancel) is { } zone
                ? TimeZoneInfo.FindSystemTimeZoneById(zone)
                : options.Zone;
}
