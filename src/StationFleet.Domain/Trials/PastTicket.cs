using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>A ticket of a replayed past, with what people did about it.</summary>
public sealed record PastTicket
{
    /// <summary>The station's code.</summary>
    public required string Station { get; init; }

    /// <summary>The rule.</summary>
    public required Rule Rule { get; init; }

    /// <summary>The part it is about: a tool's slug, or empty.</summary>
    public required string Part { get; init; }

    /// <summary>When it was raised.</summary>
    public required DateTimeOffset Raised { get; init; }

    /// <summary>The numbers that raised it.</summary>
    public required Evidence RaisedWith { get; init; }

    /// <summary>The newest numbers behind it.</summary>
    public required Evidence Evidence { get; init; }

    /// <summary>When its problem cleared by itself; null while it is on.</summary>
    public DateTimeOffset? ProblemCleared { get; init; }

    /// <summary>When the technician took it.</summary>
    public DateTimeOffset? Taken { get; init; }

    /// <summary>When it was closed.</summary>
    public DateTimeOffset? Closed { get; init; }

    /// <summary>How it ended.</summary>
    public TicketOutcome? Outcome { get; init; }

    /// <summary>How often it came back after closing.</summary>
    public int TimesReopened { get; init; }

    /// <summary>All that happened to it, in order.</summary>
    public IReadOnlyList<PastTicketEvent> Events { get; init; } = [];

    /// <summary>The visits that were made for it.</summary>
    public IReadOnlyList<PastVisit> Visits { get; init; } = [];

    /// <summary>Where it stands at the end.</summary>
    public TicketState State => Closed is not null ? TicketState.Closed : Taken is not null ? TicketState.Taken : TicketState.New;
}

/// <summary>One thing that happened to a ticket.</summary>
/// <param name="At">When.</param>
/// <param name="Kind">What.</param>
/// <param name="ByTechnician">Whether the technician did it; else the watch did.</param>
/// <param name="Note">Words, if any.</param>
public sealed record PastTicketEvent(DateTimeOffset At, TicketEventKind Kind, bool ByTechnician, string? Note = null);

/// <summary>A visit made for a ticket.</summary>
/// <param name="At">When the work was done.</param>
/// <param name="Minutes">Minutes at the station.</param>
/// <param name="Note">What the technician wrote.</param>
/// <param name="PumpedOutLitres">What was pumped out [L]; null when nothing was.</param>
public sealed record PastVisit(DateTimeOffset At, int Minutes, string Note, double? PumpedOutLitres);
