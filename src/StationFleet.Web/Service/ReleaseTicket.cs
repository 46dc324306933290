using StationFleet.Domain.Service;

namespace StationFleet.Web.Service;

/// <summary>A person gives a taken ticket back, so that others see it as new.</summary>
internal sealed class ReleaseTicket(TicketDesk desk)
{
    public Task<TicketAnswer> HandleAsync(TicketForm form, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: true, at => Task.FromResult(Release(at, form)), cancel);

    private static TicketAnswer Release(TicketDesk.Desk at, TicketForm form)
    {
        if (at.Ticket.State != TicketState.Taken)
        {
            return new TicketAnswer.AlreadyDone();
        }

        if (at.Ticket.TakenById != form.Viewer.UserId)
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = "Somebody else has this ticket; take it over instead." });
        }

        at.Ticket.State = TicketState.New;
        at.Ticket.TakenById = null;
        at.Ticket.TakenAt = null;
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Released));
        return new TicketAnswer.Done();
    }
}
