using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;

namespace StationFleet.Storage.Service;

/// <summary>Stored tickets as the figures of seasons and of the watch take them.</summary>
public static class TicketRecords
{
    /// <param name="ticket">The ticket.</param>
    /// <param name="events">What happened to it.</param>
    /// <param name="activeWork">Work at the station for it; null when nobody wrote it down, or when it does not matter.</param>
    public static TicketRecord Of(Ticket ticket, IEnumerable<TicketEvent> events, TimeSpan? activeWork = null)
    {
        ArgumentNullException.ThrowIfNull(ticket);
        return new TicketRecord(
            ticket.Number, ticket.Rule, ticket.Part, ticket.Raised,
            ticket.State == TicketState.Closed ? ticket.DoneAt ?? ticket.Closed : null,
            ticket.Outcome,
            activeWork,
            [.. events.Select(happening => new TicketHappening(happening.At, happening.Kind))]);
    }
}
