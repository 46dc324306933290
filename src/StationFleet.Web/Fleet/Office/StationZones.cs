using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The time zone in which people write a station's times: that of the access where it stands, else the fleet's.</summary>
internal static class StationZones
{
    public static async Task<TimeZoneInfo> OfAsync(
        FleetDbContext db, StationId station, DateTimeOffset now, FleetOptions options, CancellationToken cancel)
    {
        string? zone = await db.Placements
            .Where(placement => placement.StationId == station && placement.From <= now && (placement.To == null || placement.To > now))
            .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (_, access) => access.TimeZone)
            .FirstOrDefaultAsync(cancel);
        return zone is null ? options.Zone : TimeZoneInfo.FindSystemTimeZoneById(zone);
    }
}
