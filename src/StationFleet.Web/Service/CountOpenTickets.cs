using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service;

/// <summary>How many tickets are open, for the top bar.</summary>
internal sealed class CountOpenTickets(IDbContextFactory<FleetDbContext> databases)
{
    public async Task<int> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await TicketList.VisibleTo(db, viewer).CountAsync(ticket => ticket.State != TicketState.Closed, cancel);
    }
}
