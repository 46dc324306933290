using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes back what was said of a station's battery and panel; the row before it then holds on.</summary>
internal sealed class RemovePower(IDbContextFactory<FleetDbContext> databases)
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
            db => db.StationPowers
                .Where(power => power.Id == command.Id && power.StationId == command.Station)
                .Where(power => db.Stations.VisibleTo(viewer).Any(station => station.Id == power.StationId))
                .ExecuteDeleteAsync(cancel),
            cancel);
        return removed > 0 ? new Outcome.Removed() : new Outcome.NotAllowed();
    }
}
