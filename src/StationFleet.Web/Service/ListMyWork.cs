using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Routes;

namespace StationFleet.Web.Service;

/// <summary>The page My work: what the person has taken, then what nobody has, then what of both is snoozed; by the order of the day, where one is set.</summary>
internal sealed class ListMyWork(IDbContextFactory<FleetDbContext> databases, TicketList list, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed record Result(IReadOnlyList<TicketRow> Mine, IReadOnlyList<TicketRow> Free, IReadOnlyList<TicketRow> Snoozed, int WithOthers)
    {
        /// <summary>The person's day on the road in a sentence; null when none is set for today.</summary>
        public string? Day { get; init; }
    }

    public async Task<Result> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Ticket> tickets = TicketList.VisibleTo(db, viewer);
        IQueryable<Ticket> awake = TicketList.Awake(tickets, now);
        DayOrder day = await DayOrder.ReadAsync(db, viewer, now, options.Value.Zone, cancel);
        IQueryable<Ticket> free = viewer.MayChangeFleet() ? awake : awake.Where(ticket => ticket.Rule != Rule.NewFind);
        return new Result(
            day.Sort(await list.ReadAsync(
                db,
                awake.Where(ticket => ticket.State == TicketState.Taken && ticket.TakenById == viewer.UserId).OrderBy(ticket => ticket.Raised),
                viewer,
                cancel)),
            day.Sort(await list.ReadAsync(db, free.Where(ticket => ticket.State == TicketState.New).OrderBy(ticket => ticket.Raised), viewer, cancel)),
            await list.ReadAsync(
                db,
                TicketList.Asleep(tickets, now).Where(ticket => ticket.State == TicketState.New || ticket.TakenById == viewer.UserId)
                    .OrderBy(ticket => ticket.SnoozedUntil),
                viewer,
                cancel),
            await tickets.CountAsync(ticket => ticket.State == TicketState.Taken && ticket.TakenById != viewer.UserId, cancel))
        {
            Day = day.Sentence,
        };
    }
}
