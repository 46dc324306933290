namespace StationFleet.Domain.Service;

/// <summary>Where a ticket stands.</summary>
public enum TicketState
{
    /// <summary>Nobody has it yet.</summary>
    New,

    /// <summary>A person has said: mine.</summary>
    Taken,

    /// <summary>Done, with an outcome.</summary>
    Closed,
}

/// <summary>How a ticket ended.</summary>
public enum TicketOutcome
{
    /// <summary>The fault was found and mended.</summary>
    Fixed,

    /// <summary>The person found nothing wrong.</summary>
    NothingWrong,

    /// <summary>Closed without the work.</summary>
    NotDone,

    /// <summary>The problem cleared by itself within its grace time, under a rule marked self-closing.</summary>
    ClearedByItself,
}

/// <summary>What happened to a ticket; every change is a row and nothing is overwritten.</summary>
public enum TicketEventKind
{
    /// <summary>A problem became a ticket.</summary>
    Raised,

    /// <summary>A person took it.</summary>
    Taken,

    /// <summary>The person who had it gave it back.</summary>
    Released,

    /// <summary>Words added.</summary>
    Noted,

    /// <summary>The problem cleared by itself.</summary>
    ProblemCleared,

    /// <summary>The problem came back while the ticket was open.</summary>
    ProblemReturned,

    /// <summary>Closed, with an outcome.</summary>
    Closed,

    /// <summary>The problem was still on a day after closing.</summary>
    Reopened,

    /// <summary>Put off until a date, with a reason.</summary>
    Snoozed,

    /// <summary>A person ended the putting off before its date.</summary>
    SnoozeEnded,

    /// <summary>A person is on the way to it.</summary>
    OnTheWay,

    /// <summary>A person has arrived at it.</summary>
    Arrived,
}
