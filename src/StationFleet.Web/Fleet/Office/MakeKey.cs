using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Makes a key by which a station sends its reports; it is shown once.</summary>
internal sealed class MakeKey(IDbContextFactory<FleetDbContext> databases, StationKeys keys)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Made(string Key) : Outcome;

        internal sealed record TwoAlready : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, StationId station, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (!viewer.MayChangeFleet() || !await db.Stations.VisibleTo(viewer).AnyAsync(row => row.Id == station, cancel))
        {
            return new Outcome.NotAllowed();
        }

        return await keys.MakeAsync(station, cancel) is StationKeys.MakeOutcome.Made made
            ? new Outcome.Made(made.Key)
            : new Outcome.TwoAlready();
    }
}
