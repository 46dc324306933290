using StationFleet.Domain.Service;

namespace StationFleet.Web.Service;

/// <summary>A person says that they are on the way to a ticket, or there; both may be left out.</summary>
internal sealed class TellProgress(TicketDesk desk)
{
    /// <param name="form">The form.</param>
    /// <param name="kind">On the way, or arrived.</param>
    /// <param name="kept">How long the phone kept the form.</param>
    /// <param name="cancel">Stops it.</param>
    public Task<TicketAnswer> HandleAsync(TicketForm form, TicketEventKind kind, TimeSpan kept, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: false, at => Task.FromResult(Tell(at, form, kind, kept)), cancel);

    private static TicketAnswer Tell(TicketDesk.Desk at, TicketForm form, TicketEventKind kind, TimeSpan kept)
    {
        if (at.Ticket.State == TicketState.Closed)
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = "This ticket is closed already." });
        }

        DateTimeOffset pressed = at.Now - kept;
        at.Db.TicketEvents.Add(TicketDesk.Event(at with { Now = pressed > at.Ticket.Raised ? pressed : at.Now }, form, kind));
        return new TicketAnswer.Done();
    }
}
