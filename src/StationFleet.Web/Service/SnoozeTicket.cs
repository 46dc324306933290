using Microsoft.Extensions.Options;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>The fields of the snooze form just as they were typed.</summary>
public sealed record SnoozeInput
{
    /// <summary>The local day on which the ticket comes back.</summary>
    public string SnoozeUntil { get; init; } = "";

    public string SnoozeReason { get; init; } = "";

    public bool IsEmpty => SnoozeUntil.Trim().Length == 0 && SnoozeReason.Trim().Length == 0;

    public static SnoozeInput From(IFormCollection form) => new()
    {
        SnoozeUntil = form[nameof(SnoozeUntil)].ToString(),
        SnoozeReason = form[nameof(SnoozeReason)].ToString().ReplaceLineEndings(" "),
    };
}

/// <summary>Puts an open ticket off until a day, at most two weeks ahead, for a reason. Once more changes the day.</summary>
internal sealed class SnoozeTicket(TicketDesk desk, IOptions<FleetOptions> options)
{
    public Task<TicketAnswer> HandleAsync(TicketForm form, SnoozeInput typed, CancellationToken cancel) =>
        desk.ActAsync(form, mindsOthers: true, at => SnoozeAsync(at, form, typed, cancel), cancel);

    private async Task<TicketAnswer> SnoozeAsync(TicketDesk.Desk at, TicketForm form, SnoozeInput typed, CancellationToken cancel)
    {
        if (at.Ticket.State == TicketState.Closed)
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = "This ticket is closed; there is nothing to snooze." });
        }

        TimeZoneInfo zone = await TicketDesk.ZoneAsync(at, options.Value, cancel);
        DateOnly today = LocalCalendar.DateOf(at.Now, zone);
        Typed read = new();
        DateOnly day = read.Day(nameof(SnoozeInput.SnoozeUntil), typed.SnoozeUntil, today.AddDays(1), today.AddDays(Snooze.MostDays));
        string reason = read.Text(
            nameof(SnoozeInput.SnoozeReason), typed.SnoozeReason, Snooze.LongestReason, "Write why it can wait, such as: parts ordered.");
        if (read.Wrong.Count > 0)
        {
            return new TicketAnswer.Wrong(read.Wrong);
        }

        at.Ticket.SnoozedUntil = Snooze.EndOn(day, zone);
        at.Db.TicketEvents.Add(TicketDesk.Event(at, form, TicketEventKind.Snoozed, Snooze.Note(day, reason)));
        return new TicketAnswer.Done();
    }
}
