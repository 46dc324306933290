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

    /// <summary>What is to be expected of a station; null when nothing was reckoned.</summary>
    /// <param name="db">The database.</param>
    /// <param name="station">The station.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<StationAhead?> AheadAsync(this FleetDbContext db, StationId station, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(db);
        string? ahead = await db.WatchPositions.Where(position => position.StationId == station).Select(position => position.Ahead).SingleOrDefaultAsync(cancel);
        return ahead is null ? null : WatchJson.Read<StationAhead>(ahead);
    }
}
