using StationFleet.Domain.Service;

namespace StationFleet.Domain.Watch;

/// <summary>A ticket as the ledger needs it.</summary>
/// <param name="Ref">Names the ticket: the database's number, or a negative one for a ticket raised in this run.</param>
/// <param name="Rule">Its rule.</param>
/// <param name="Part">The part it is about.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Raised">When it was raised.</param>
/// <param name="Evidence">The newest numbers that it holds.</param>
/// <param name="ProblemCleared">When its problem cleared; null while it is on.</param>
/// <param name="Done">When the work was done, for a closed ticket: the phone's time if known, else when it was closed.</param>
/// <param name="Outcome">How it ended, for a closed ticket.</param>
public sealed record LedgerTicket(
    int Ref,
    Rule Rule,
    string Part,
    TicketState State,
    DateTimeOffset Raised,
    Evidence Evidence,
    DateTimeOffset? ProblemCleared = null,
    DateTimeOffset? Done = null,
    TicketOutcome? Outcome = null);

/// <summary>One thing to do to a ticket.</summary>
/// <param name="At">The instant of judging.</param>
/// <param name="Ref">The ticket.</param>
public abstract record TicketCommand(DateTimeOffset At, int Ref)
{
    /// <summary>Make a ticket and tell people.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The name that later commands of this run call it by; negative.</param>
    /// <param name="Problem">The problem.</param>
    public sealed record Raise(DateTimeOffset At, int Ref, Problem Problem) : TicketCommand(At, Ref);

    /// <summary>Keep newer numbers.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The ticket.</param>
    /// <param name="Evidence">The numbers.</param>
    public sealed record UpdateEvidence(DateTimeOffset At, int Ref, Evidence Evidence) : TicketCommand(At, Ref);

    /// <summary>Note that the problem cleared by itself; the ticket waits for a person.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The ticket.</param>
    public sealed record ProblemCleared(DateTimeOffset At, int Ref) : TicketCommand(At, Ref);

    /// <summary>Note that the problem came back while the ticket was open.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The ticket.</param>
    /// <param name="Evidence">The numbers.</param>
    public sealed record ProblemReturned(DateTimeOffset At, int Ref, Evidence Evidence) : TicketCommand(At, Ref);

    /// <summary>Close the ticket: the problem went away within the rule's grace time and nobody had taken the ticket.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The ticket.</param>
    public sealed record CloseByItself(DateTimeOffset At, int Ref) : TicketCommand(At, Ref);

    /// <summary>Open the ticket again and tell people: the problem was still on a day after the work.</summary>
    /// <param name="At">The instant of judging.</param>
    /// <param name="Ref">The ticket.</param>
    /// <param name="Problem">The problem.</param>
    public sealed record Reopen(DateTimeOffset At, int Ref, Problem Problem) : TicketCommand(At, Ref);
}
