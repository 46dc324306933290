using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Takes back known days: the watch expects the usual boats on them.</summary>
internal sealed class RemoveKnownDays(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed record Command(int Id);

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
                if (await db.KnownDays.SingleOrDefaultAsync(row => row.Id == command.Id, cancel) is not { } known
                    || !KnownDaysRights.MayChange(viewer, await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == known.AccessId, cancel)))
                {
                    return new Outcome.NotAllowed();
                }

                db.Remove(known);
                return new Outcome.Removed();
            },
            cancel);
}
