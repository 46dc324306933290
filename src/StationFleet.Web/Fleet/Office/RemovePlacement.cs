using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes a placement out of a station's history: it was in transit then.</summary>
internal sealed class RemovePlacement(IDbContextFactory<FleetDbContext> databases, MeasurementWriter writer)
{
    internal sealed record Command(StationId Station, PlacementId Id);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Removed : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        Placement? removed = await databases.WriteAsync(
            async db =>
            {
                Placement? placement = await db.Placements
                    .Where(row => row.Id == command.Id && row.StationId == command.Station)
                    .Where(row => db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId))
                    .SingleOrDefaultAsync(cancel);
                if (placement is not null)
                {
                    db.Placements.Remove(placement);
                }

                return placement;
            },
            cancel);
        if (removed is null)
        {
            return new Outcome.NotAllowed();
        }

        await writer.RebuildAsync(command.Station, removed.From, removed.To, cancel);
        return new Outcome.Removed();
    }
}
