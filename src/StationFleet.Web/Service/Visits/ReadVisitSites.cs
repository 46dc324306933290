using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>The places that are approved to take what is pumped out.</summary>
internal sealed class ReadVisitSites(IDbContextFactory<FleetDbContext> databases)
{
    public async Task<IReadOnlyList<VisitOffers.Site>> HandleAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.DisposalSites.OrderBy(site => site.Name)
            .Select(site => new VisitOffers.Site(site.Id, site.Name, site.Permission, site.LastDay)).ToListAsync(cancel);
    }
}
