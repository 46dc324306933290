using StationFleet.Domain.Service;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Service;

/// <summary>The words that pages use for tickets.</summary>
internal static class TicketWords
{
    public static string Of(TicketOutcome outcome) => outcome switch
    {
        TicketOutcome.Fixed => "Fixed.",
        TicketOutcome.NothingWrong => "Nothing wrong.",
        TicketOutcome.NotDone => "Not done.",
        TicketOutcome.ClearedByItself => "Cleared by itself.",
        _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "An unknown outcome."),
    };

    /// <summary>What was done to the ticket, without who did it: «took it», «closed it».</summary>
    public static string Verb(TicketEventKind kind) => kind switch
    {
        TicketEventKind.Raised => "raised",
        TicketEventKind.Taken => "took it",
        TicketEventKind.Released => "gave it back",
        TicketEventKind.Noted => "wrote",
        TicketEventKind.ProblemCleared => "the problem cleared by itself",
        TicketEventKind.ProblemReturned => "the problem came back",
        TicketEventKind.Closed => "closed it",
        TicketEventKind.Reopened => "reopened: the problem was still there a day later",
        TicketEventKind.Snoozed => "snoozed it",
        TicketEventKind.SnoozeEnded => "ended the snooze",
        TicketEventKind.OnTheWay => "is on the way",
        TicketEventKind.Arrived => "arrived",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "An unknown event."),
    };

    /// <summary>Where a ticket stands: «new», «taken by you», «taken by field crew», «closed».</summary>
    public static string State(TicketState state, string? takenBy, bool isYou) => state switch
    {
        TicketState.New => "new",
        TicketState.Taken => isYou ? "taken by you" : $"taken by {takenBy ?? "somebody"}",
        _ => "closed",
    };

    /// <summary>One line of what others did: «field crew closed it today 10:31. Fixed.»</summary>
    public static string Line(Happening happening, DateTimeOffset now, TimeZoneInfo zone)
    {
        string when = SpokenTime.At(happening.At, now, zone);
        string first = happening.Note?.Split('\n')[0] ?? "";
        string words = happening.Kind is TicketEventKind.Closed or TicketEventKind.Snoozed && first.Length > 0 ? $" {first}" : "";
        return $"{happening.Who ?? "The watch"} {Verb(happening.Kind)} {when}.{words}";
    }
}
