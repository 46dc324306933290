using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>How many tickets are open and not snoozed, for the top bar.</summary>
internal sealed class CountOpenTickets(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public async Task<int> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await TicketList.Awake(TicketList.VisibleTo(db, viewer), clock.GetUtcNow()).CountAsync(cancel);
    }
}
