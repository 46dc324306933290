using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Service;

/// <summary>Reads what people did at a station: visits, and tickets taken and closed.</summary>
public sealed class WhatPeopleDidReader(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>What people did in a stretch of time.</summary>
    /// <param name="station">The station.</param>
    /// <param name="from">Its beginning.</param>
    /// <param name="to">Its end.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<WhatPeopleDid> ReadAsync(StationId station, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        var visits = await db.ServiceVisits.Where(visit => visit.StationId == station && visit.At >= from && visit.At <= to)
            .Select(visit => new { visit.At, visit.Minutes }).ToListAsync(cancel);
        IQueryable<Ticket> tickets = db.Tickets.Where(ticket =>
            ticket.StationId == station && ticket.Rule != Rule.NewFind && ticket.Rule != Rule.PublicReport && ticket.Raised <= to && (ticket.Closed == null || ticket.Closed >= from));
        List<Ticket> then = await tickets.ToListAsync(cancel);
        ILookup<TicketId, TicketEvent> people = (await db.TicketEvents
            .Where(happening => happening.Who != null && (happening.Kind == TicketEventKind.Taken || happening.Kind == TicketEventKind.Closed)
                && tickets.Any(ticket => ticket.Id == happening.TicketId))
            .OrderBy(happening => happening.Id)
            .ToListAsync(cancel)).ToLookup(happening => happening.TicketId);
        return new WhatPeopleDid(
            [
                .. visits.Select(visit => ServiceLog.VisitEndingAt(visit.At, visit.Minutes)).Select(visit => new TrialEvent.Visited(visit.Start, visit.End)),
                .. then.SelectMany(ticket => Doings(ticket, people[ticket.Id])).Where(doing => doing.At >= from && doing.At <= to),
            ],
            [.. then.Select(ticket => new TicketThen(ticket.Rule, ticket.Part, ticket.Raised, DoneAt(ticket)))]);
    }

    private static DateTimeOffset? DoneAt(Ticket ticket) =>
        ticket.Closed is null ? null : Ticket.DoneBetween(ticket.Raised, ticket.DoneAt, ticket.Closed);

    private static IEnumerable<TrialEvent> Doings(Ticket ticket, IEnumerable<TicketEvent> people)
    {
        foreach (TicketEvent happening in people)
        {
            // How a ticket ended that was reopened since is not kept: it was not fixed.
            yield return happening.Kind == TicketEventKind.Taken
                ? new TrialEvent.TicketTaken(happening.At, ticket.Rule, ticket.Part)
                : happening.At == ticket.Closed
                    ? new TrialEvent.TicketClosed(DoneAt(ticket)!.Value, ticket.Rule, ticket.Part, ticket.Outcome ?? TicketOutcome.NotDone)
                    : new TrialEvent.TicketClosed(happening.At, ticket.Rule, ticket.Part, TicketOutcome.NotDone);
        }
    }
}
