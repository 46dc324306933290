using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Boaters;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>What the page Tickets shows; public, since the page keeps it between prerendering and its circuit.</summary>
/// <param name="Open">Without the snoozed ones.</param>
/// <param name="Snoozed">Those whose snooze ends first, first.</param>
/// <param name="Stations">Codes to filter by.</param>
/// <param name="Reported">What boaters reported and nobody has confirmed.</param>
public sealed record TicketsShown(
    IReadOnlyList<TicketRow> Open, IReadOnlyList<TicketRow> Snoozed, IReadOnlyList<TicketRow> Closed, int ClosedInAll, IReadOnlyList<string> Stations,
    bool MayAct, IReadOnlyList<WaitingReport> Reported);

/// <summary>The page Tickets: open ones by station, then the snoozed, closed ones newest first.</summary>
internal sealed class ListTickets(IDbContextFactory<FleetDbContext> databases, TicketList list, ListPublicReports reports, FleetClock clock)
{
    private const int MostClosed = 100;

    public async Task<TicketsShown> HandleAsync(Viewer viewer, string? station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Ticket> tickets = TicketList.VisibleTo(db, viewer)
            .Where(ticket => station == null || db.Stations.Any(row => row.Id == ticket.StationId && row.Code == station));
        IQueryable<Ticket> closed = tickets.Where(ticket => ticket.State == TicketState.Closed);
        IReadOnlyList<TicketRow> open = await list.ReadAsync(
            db, TicketList.Awake(tickets, now).OrderBy(ticket => ticket.Raised), viewer, cancel);
        return new TicketsShown(
            [.. open.OrderBy(row => row.Station, StringComparer.Ordinal)],
            await list.ReadAsync(db, TicketList.Asleep(tickets, now).OrderBy(ticket => ticket.SnoozedUntil), viewer, cancel),
            await list.ReadAsync(db, closed.OrderByDescending(ticket => ticket.Closed).Take(MostClosed), viewer, cancel),
            await closed.CountAsync(cancel),
            await db.Stations.VisibleTo(viewer).OrderBy(row => row.Code).Select(row => row.Code).ToListAsync(cancel),
            TicketDesk.MayAct(viewer),
            await reports.HandleAsync(viewer, station, cancel));
    }
}
