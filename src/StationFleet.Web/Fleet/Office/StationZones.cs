using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The time zone in which people write a station's times: that of the access where it stands, else the fleet's.</summary>
internal static class StationZones
{
    public static async Task<TimeZoneInfo> OfAsync(
        FleetDbContext db, StationId station, DateTimeOffset now, FleetOptions options, CancellationToken cancel) =>
        (await db.AccessAtAsync(station, now, cancel))?.Zone ?? options.Zone;
}
