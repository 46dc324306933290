using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes back a closure that never was.</summary>
internal sealed class RemoveClosure(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed record Command(AccessId Access, int Id);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Removed : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) =>
        await databases.WriteAsync<Outcome>(
            async db =>
            {
                Access? access = await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == command.Access, cancel);
                if (access is null || !AccessRights.MayChange(viewer, access))
                {
                    return new Outcome.NotAllowed();
                }

                int removed = await db.AccessClosures.Where(row => row.Id == command.Id && row.AccessId == access.Id).ExecuteDeleteAsync(cancel);
                return removed > 0 ? new Outcome.Removed() : new Outcome.NotAllowed();
            },
            cancel);
}
