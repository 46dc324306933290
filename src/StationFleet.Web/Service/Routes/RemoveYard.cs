using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service.Routes;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Routes;

/// <summary>Takes away a yard with the driving times that people set for it.</summary>
internal sealed class RemoveYard(IDbContextFactory<FleetDbContext> databases)
{
    public async Task<FormOutcome> HandleAsync(Viewer viewer, int id, CancellationToken cancel) => !RouteRights.MayChange(viewer)
        ? new FormOutcome.NotAllowed()
        : await databases.WriteAsync<FormOutcome>(
            async db =>
            {
                if (await db.Yards.SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } yard)
                {
                    return new FormOutcome.NotAllowed();
                }

                string key = RoutePlace.KeyOfYard(id);
                db.RemoveRange(await db.KnownDrives.Where(drive => drive.FromKey == key || drive.ToKey == key).ToListAsync(cancel));
                db.Remove(yard);
                return new FormOutcome.Saved();
            },
            cancel);
}
