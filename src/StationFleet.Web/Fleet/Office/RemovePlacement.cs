using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes a placement out of a station's history: it was in transit then.</summary>
internal sealed class RemovePlacement(IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements, MeasurementWriter writer)
{
    internal sealed record Command(StationId Station, PlacementId Id);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Removed : Outcome;

        /// <summary>It reaches into time whose sums are final.</summary>
        internal sealed record IsFinal(DateTimeOffset UpTo) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        DateTimeOffset? finalUpTo = await measurements.SealedUpToAsync(command.Station, cancel);
        Placement? found = await databases.WriteAsync(
            async db =>
            {
                Placement? placement = await db.Placements
                    .Where(row => row.Id == command.Id && row.StationId == command.Station)
                    .Where(row => db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId))
                    .SingleOrDefaultAsync(cancel);
                if (placement is not null && !(placement.From < finalUpTo))
                {
                    db.Placements.Remove(placement);
                }

                return placement;
            },
            cancel);
        if (found is null)
        {
            return new Outcome.NotAllowed();
        }

        if (found.From < finalUpTo)
        {
            return new Outcome.IsFinal(finalUpTo.Value);
        }

        await writer.RebuildAsync(command.Station, found.From, found.To, cancel);
        return new Outcome.Removed();
    }
}
