using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Service;

/// <summary>A person says: mine. A ticket that somebody else has can be taken over by a form that showed so.</summary>
internal sealed class TakeTicket(TicketDesk desk)
{
    public Task<TicketAnswer> HandleAsync(TicketForm form, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: true, at => Task.FromResult(Take(at, form)), cancel);

    /// <summary>The same within a transaction of the caller's.</summary>
    public Task<TicketAnswer> HandleAsync(FleetDbContext db, TicketForm form, CancellationToken cancel) =>
        desk.ActAsync(db, form, mindsOthers: true, at => Task.FromResult(Take(at, form)), cancel);

    private static TicketAnswer Take(TicketDesk.Desk at, TicketForm form)
    {
        if (at.Ticket.State == TicketState.Closed)
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = "This ticket is closed; nobody needs to take it." });
        }

        if (at.Ticket.State == TicketState.Taken && at.Ticket.TakenById == form.Viewer.UserId)
        {
            return new TicketAnswer.AlreadyDone();
        }

        at.Ticket.State = TicketState.Taken;
        at.Ticket.TakenById = form.Viewer.UserId;
        at.Ticket.TakenAt = at.Now;
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Taken));
        return new TicketAnswer.Done();
    }
}
