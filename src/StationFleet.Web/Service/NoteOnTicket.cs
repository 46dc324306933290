using StationFleet.Domain.Service;

namespace StationFleet.Web.Service;

/// <summary>Adds what a person wrote, and the visit if there was one; the ticket stays as it is, open or closed.</summary>
internal sealed class NoteOnTicket(TicketDesk desk, VisitLog visits)
{
    // Words only add to the history, so other people's doings don't stand in their way.
    public Task<TicketAnswer> HandleAsync(TicketForm form, VisitInput typed, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: false, at => NoteAsync(at, form, typed, cancel), cancel);

    private async Task<TicketAnswer> NoteAsync(TicketDesk.Desk at, TicketForm form, VisitInput typed, CancellationToken cancel)
    {
        (VisitReport? report, Dictionary<string, string> errors) = await visits.ReadAsync(at, typed with { Outcome = "" }, cancel);
        if (typed.IsEmpty && form.Photographs.IsEmpty)
        {
            errors[nameof(VisitInput.Found)] = "Write something first.";
        }

        if (report is null || errors.Count > 0)
        {
            return new TicketAnswer.Wrong(errors);
        }

        await visits.WriteAsync(at, form, report, [], cancel);
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Noted, report.Note));
        return new TicketAnswer.Done();
    }
}
