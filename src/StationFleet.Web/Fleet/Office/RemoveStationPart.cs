using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes back what was said of a station's tank, calibration or battery; the row before it then holds on.</summary>
internal sealed class RemoveStationPart(IDbContextFactory<FleetDbContext> databases)
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

    public async Task<Outcome> HandleAsync<T>(Viewer viewer, Command command, CancellationToken cancel)
        where T : class, IStationPart
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        int removed = await databases.WriteAsync(
            db => db.Set<T>()
                .Where(row => row.Id == command.Id && row.StationId == command.Station)
                .Where(row => db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId))
                .ExecuteDeleteAsync(cancel),
            cancel);
        return removed > 0 ? new Outcome.Removed() : new Outcome.NotAllowed();
    }
}
