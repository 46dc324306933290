using StationFleet.Domain.Service;

namespace StationFleet.Domain.Seasons;

/// <summary>How a ticket stood at an instant, and when its station was down because of it until then.</summary>
/// <param name="IsOpen">It waited for a person.</param>
/// <param name="Done">When its work was done; null while open.</param>
/// <param name="Down">
/// When the station was down: from raised until done or until the problem cleared by itself, whichever came first, and again
/// from each return. The last may have no end.
/// </param>
public sealed record TicketHistory(bool IsOpen, DateTimeOffset? Done, IReadOnlyList<Failure> Down)
{
    /// <summary>Replays a ticket's events up to an instant.</summary>
    /// <param name="ticket">The ticket.</param>
    /// <param name="until">Events from this instant on have not happened yet.</param>
    public static TicketHistory Until(TicketRecord ticket, DateTimeOffset until)
    {
        ArgumentNullException.ThrowIfNull(ticket);
        bool open = false;
        bool problemOn = false;
        DateTimeOffset? done = null;
        DateTimeOffset? downSince = null;
        List<Failure> down = [];
        foreach (TicketHappening happening in InOrder(ticket).TakeWhile(happening => happening.At < until))
        {
            (open, problemOn, done) = happening.Kind switch
            {
                TicketEventKind.Raised or TicketEventKind.Reopened => (true, true, null),
                TicketEventKind.ProblemCleared => (open, false, done),
                TicketEventKind.ProblemReturned => (open, true, done),
                TicketEventKind.Closed => (false, problemOn, happening.At),
                _ => (open, problemOn, done),
            };
            if (open && problemOn)
            {
                downSince ??= happening.At;
            }
            else if (downSince is { } since)
            {
                // Work is noted per ticket, so it counts with the ticket's first stretch only.
                down.Add(new Failure(since, happening.At, down.Count == 0 ? ticket.ActiveWork : null));
                downSince = null;
            }
        }

        if (downSince is { } lasting)
        {
            down.Add(new Failure(lasting, null, down.Count == 0 ? ticket.ActiveWork : null));
        }

        return new TicketHistory(open, done, down);
    }

    // The last closing happened when the work was done, not when the server learnt of it.
    internal static IEnumerable<TicketHappening> InOrder(TicketRecord ticket)
    {
        List<TicketHappening> happenings = [.. ticket.Events.Where(happening => happening.Kind != TicketEventKind.Raised)];
        if (ticket.DoneAt is { } doneAt)
        {
            TicketHappening? lastClosing =
                happenings.Where(happening => happening.Kind == TicketEventKind.Closed).MaxBy(happening => happening.At);
            happenings.RemoveAll(happening => ReferenceEquals(happening, lastClosing));
            happenings.Add(new TicketHappening(doneAt > ticket.Raised ? doneAt : ticket.Raised, TicketEventKind.Closed));
        }

        return happenings.OrderBy(happening => happening.At)
            .Prepend(new TicketHappening(ticket.Raised, TicketEventKind.Raised));
    }
}
