using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>What the watch knew of a station when it last looked, for pages that judge by it.</summary>
public sealed class ReadWatchState(IDbContextFactory<FleetDbContext> databases, StationSetupReader setups, IOptions<FleetOptions> fleet)
{
    /// <summary>What the watch knew, with the station's setup at the instant of asking.</summary>
    internal sealed record Known(StationSetup Setup, WatchState State)
    {
        public FactsContext Context { get; } = new(Setup, State.WatchedFrom);
    }

    /// <returns>Null where the watch has not looked yet.</returns>
    internal async Task<Known?> HandleAsync(StationId station, DateTimeOffset now, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        string? json = await db.WatchPositions.AsNoTracking().Where(position => position.StationId == station)
            .Select(position => position.State).SingleOrDefaultAsync(cancel);
        return json is null || await setups.ReadAsync(station, now, fleet.Value.Zone, cancel) is not { } setup
            ? null
            : new Known(setup, WatchJson.Read<WatchState>(json));
    }
}
