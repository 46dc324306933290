using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Watch;

/// <summary>Reads what is to be expected of stations, as the watch last reckoned it.</summary>
public static class AheadRows
{
    /// <summary>What is to be expected of each station of which anything was reckoned.</summary>
    /// <param name="db">The database.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<Dictionary<StationId, StationAhead>> AheadAsync(this FleetDbContext db, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(db);
        var rows = await db.WatchPositions.Where(position => position.Ahead != null)
            .Select(position => new { position.StationId, position.Ahead }).ToListAsync(cancel);
        return rows.ToDictionary(row => row.StationId, row => WatchJson.Read<StationAhead>(row.Ahead!));
    }
}
