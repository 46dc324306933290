using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>The page My work: what the person has taken, then what nobody has, then what of both is snoozed.</summary>
internal sealed class ListMyWork(IDbContextFactory<FleetDbContext> databases, TicketList list, FleetClock clock)
{
    internal sealed record Result(IReadOnlyList<TicketRow> Mine, IReadOnlyList<TicketRow> Free, IReadOnlyList<TicketRow> Snoozed, int WithOthers);

    public async Task<Result> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Ticket> tickets = TicketList.VisibleTo(db, viewer);
        IQueryable<Ticket> awake = TicketList.Awake(tickets, now);
        IQueryable<Ticket> free = viewer.MayChangeFleet() ? awake : awake.Where(ticket => ticket.Rule != Rule.NewFind);
        return new Result(
            await list.ReadAsync(
                db,
                awake.Where(ticket => ticket.State == TicketState.Taken && ticket.TakenById == viewer.UserId).OrderBy(ticket => ticket.Raised),
                viewer,
                cancel),
            await list.ReadAsync(db, free.Where(ticket => ticket.State == TicketState.New).OrderBy(ticket => ticket.Raised), viewer, cancel),
            await list.ReadAsync(
                db,
                TicketList.Asleep(tickets, now).Where(ticket => ticket.State == TicketState.New || ticket.TakenById == viewer.UserId)
                    .OrderBy(ticket => ticket.SnoozedUntil),
                viewer,
                cancel),
            await tickets.CountAsync(ticket => ticket.State == TicketState.Taken && ticket.TakenById != viewer.UserId, cancel));
    }
}
