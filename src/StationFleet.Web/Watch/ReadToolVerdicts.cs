using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>How odd each tool's present silence is, from what the watch knew when it last looked.</summary>
public sealed class ReadToolVerdicts(IDbContextFactory<FleetDbContext> databases, StationSetupReader setups, IOptions<FleetOptions> fleet)
{
    /// <returns>A verdict for each tool's slug; null where its total was never read.</returns>
    internal async Task<IReadOnlyDictionary<string, IdleVerdict?>> HandleAsync(StationId station, DateTimeOffset now, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        string? json = await db.WatchPositions.AsNoTracking().Where(position => position.StationId == station)
            .Select(position => position.State).SingleOrDefaultAsync(cancel);
        if (json is null || await setups.ReadAsync(station, now, fleet.Value.Zone, cancel) is not { } setup)
        {
            return new Dictionary<string, IdleVerdict?>();
        }

        WatchState state = WatchJson.Read<WatchState>(json);
        FactsContext context = new(setup, state.WatchedFrom);
        return setup.Tools.ToDictionary(tool => tool.Slug, tool => IdleTool.Judge(tool, state.Facts, context, now));
    }
}
