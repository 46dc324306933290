using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Fleet;

/// <summary>Reads all that the watch and the season summary need to know of stations beside their measurements.</summary>
public sealed class StationSetupReader(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>A station's setup at an instant; null when there is no such station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="now">The instant: tools and power are those of then.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<StationSetup?> ReadAsync(StationId station, DateTimeOffset now, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        SetupRows rows = await SetupRows.ReadAsync(db, station, now, cancel);
        return (await rows.HistoriesAsync(db, fleetZone, cancel)).GetValueOrDefault(station)?.At(now);
    }

    /// <summary>A station's setup through all time; null when there is no such station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<StationSetupHistory?> ReadHistoryAsync(StationId station, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        SetupRows rows = await SetupRows.ReadAsync(db, station, now: null, cancel);
        return (await rows.HistoriesAsync(db, fleetZone, cancel)).GetValueOrDefault(station);
    }

    /// <summary>The setups of all stations at an instant, in a few queries for all of them together.</summary>
    /// <param name="now">The instant: tools and power are those of then.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyDictionary<StationId, StationSetup>> ReadAllAsync(
        DateTimeOffset now, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        SetupRows rows = await SetupRows.ReadAsync(db, station: null, now, cancel);
        return (await rows.HistoriesAsync(db, fleetZone, cancel)).ToDictionary(history => history.Key, history => history.Value.At(now));
    }
}
