using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Ends a key: reports that carry it are refused from then on.</summary>
internal sealed class RevokeKey(IDbContextFactory<FleetDbContext> databases, StationKeys keys)
{
    internal sealed record Command(StationId Station, int KeyId);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Revoked : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        bool isTheirs = viewer.MayChangeFleet() && await db.StationKeys
            .Where(key => key.Id == command.KeyId && key.StationId == command.Station)
            .AnyAsync(key => db.Stations.VisibleTo(viewer).Any(station => station.Id == key.StationId), cancel);
        return isTheirs && await keys.RevokeAsync(command.KeyId, cancel) ? new Outcome.Revoked() : new Outcome.NotAllowed();
    }
}
