using StationFleet.Domain.Service;

namespace StationFleet.Web.Service;

/// <summary>Ends a snooze before its day.</summary>
internal sealed class EndSnooze(TicketDesk desk)
{
    public Task<TicketAnswer> HandleAsync(TicketForm form, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: true, at => Task.FromResult(End(at, form)), cancel);

    private static TicketAnswer End(TicketDesk.Desk at, TicketForm form)
    {
        if (at.Ticket.State == TicketState.Closed || !(at.Ticket.SnoozedUntil > at.Now))
        {
            return new TicketAnswer.AlreadyDone();
        }

        at.Ticket.SnoozedUntil = null;
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.SnoozeEnded));
        return new TicketAnswer.Done();
    }
}
