using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Service;

/// <summary>What the page Tickets shows; public, since the page keeps it between prerendering and its circuit.</summary>
/// <param name="Stations">Codes to filter by.</param>
public sealed record TicketsShown(
    IReadOnlyList<TicketRow> Open, IReadOnlyList<TicketRow> Closed, int ClosedInAll, IReadOnlyList<string> Stations);

/// <summary>The page Tickets: open ones by station, closed ones newest first.</summary>
internal sealed class ListTickets(IDbContextFactory<FleetDbContext> databases, TicketList list)
{
    private const int MostClosed = 100;

    public async Task<TicketsShown> HandleAsync(Viewer viewer, string? station, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Ticket> tickets = TicketList.VisibleTo(db, viewer)
            .Where(ticket => station == null || db.Stations.Any(row => row.Id == ticket.StationId && row.Code == station));
        IQueryable<Ticket> closed = tickets.Where(ticket => ticket.State == TicketState.Closed);
        IReadOnlyList<TicketRow> open = await list.ReadAsync(
            db, tickets.Where(ticket => ticket.State != TicketState.Closed).OrderBy(ticket => ticket.Raised), viewer, cancel);
        return new TicketsShown(
            [.. open.OrderBy(row => row.Station, StringComparer.Ordinal)],
            await list.ReadAsync(db, closed.OrderByDescending(ticket => ticket.Closed).Take(MostClosed), viewer, cancel),
            await closed.CountAsync(cancel),
            await db.Stations.VisibleTo(viewer).OrderBy(row => row.Code).Select(row => row.Code).ToListAsync(cancel));
    }
}
