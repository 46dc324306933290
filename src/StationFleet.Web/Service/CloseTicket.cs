using StationFleet.Domain.Service;
using StationFleet.Storage.Service;
using StationFleet.Web.Service.Visits;

namespace StationFleet.Web.Service;

/// <summary>Closes a ticket with its outcome, others at the station with it, and stores the visit with its pump-out and parts.</summary>
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

        (IReadOnlyList<Ticket> others, TicketAnswer? stop) = await AlsoTickets.FindAsync(at, typed.Also, form.Own, cancel);
        if (stop is not null)
        {
            return stop;
        }

        await visits.WriteAsync(at, form, report, others, cancel);
        string note = $"{TicketWords.Of(outcome)}\n{report.Note}".Trim();
        Close(at, form, at.Ticket, report.At, outcome);
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Closed, note));
        foreach (Ticket other in others)
        {
            Close(at, form, other, report.At, outcome);
            other.Version++;
            at.Db.TicketEvents.Add(TicketDesk.Event(
                at, form, other, $"{form.Key}-{other.Number}", TicketEventKind.Closed, $"{note}\nOn the visit for T-{at.Ticket.Number}."));
        }

        return new TicketAnswer.Done();
    }

    private static void Close(TicketDesk.Desk at, TicketForm form, Ticket ticket, DateTimeOffset doneAt, TicketOutcome outcome)
    {
        ticket.State = TicketState.Closed;
        ticket.Closed = at.Now;
        ticket.ClosedById = form.Viewer.UserId;
        ticket.DoneAt = doneAt;
        ticket.Outcome = outcome;
    }
}
