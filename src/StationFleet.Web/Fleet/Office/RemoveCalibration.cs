using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes back a calibration; what was measured since then is read by the one before it, or as the sensor said it.</summary>
internal sealed class RemoveCalibration(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed record Command(StationId Station, int Id);

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

        int removed = await databases.WriteAsync(
            db => db.StationCalibrations
                .Where(row => row.Id == command.Id && row.StationId == command.Station)
                .Where(row => db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId))
                .ExecuteDeleteAsync(cancel),
            cancel);
        return removed > 0 ? new Outcome.Removed() : new Outcome.NotAllowed();
    }
}
