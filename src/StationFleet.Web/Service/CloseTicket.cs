using StationFleet.Domain.Service;

namespace StationFleet.Web.Service;

/// <summary>Closes a ticket with its outcome, and stores the visit and its pump-out.</summary>
internal sealed class CloseTicket(TicketDesk desk, VisitLog visits)
{
    public Task<TicketAnswer> HandleAsync(TicketForm form, VisitInput typed, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: true, at => CloseAsync(at, form, typed, cancel), cancel);

    private async Task<TicketAnswer> CloseAsync(TicketDesk.Desk at, TicketForm form, VisitInput typed, CancellationToken cancel)
    {
        if (at.Ticket.State == TicketState.Closed)
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = "This ticket is closed already." });
        }

        (VisitReport? report, Dictionary<string, string> errors) = await visits.ReadAsync(at, typed, cancel);
        if (typed.Outcome.Length == 0)
        {
            errors[nameof(VisitInput.Outcome)] = "Say how it ended.";
        }
        else if (typed.Outcome == nameof(TicketOutcome.NotDone) && typed.Found.Trim().Length == 0)
        {
            errors[nameof(VisitInput.Found)] = "Say in a line why it was not done.";
        }

        if (report?.Outcome is not { } outcome || errors.Count > 0)
        {
            return new TicketAnswer.Wrong(errors);
        }

        await VisitLog.WriteAsync(at, form, report, cancel);
        at.Ticket.State = TicketState.Closed;
        at.Ticket.Closed = at.Now;
        at.Ticket.ClosedById = form.Viewer.UserId;
        at.Ticket.DoneAt = report.At;
        at.Ticket.Outcome = outcome;
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Closed, $"{TicketWords.Of(outcome)}\n{report.Note}".Trim()));
        return new TicketAnswer.Done();
    }
}
