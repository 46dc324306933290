using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>Something that people did or said, as a trial learns of it.</summary>
/// <param name="At">When they did, and when the watch knows.</param>
public abstract record TrialEvent(DateTimeOffset At)
{
    /// <summary>A person takes the open ticket of a rule and part.</summary>
    /// <param name="At">When.</param>
    /// <param name="Rule">The ticket's rule.</param>
    /// <param name="Part">The ticket's part; empty for the whole station.</param>
    public sealed record TicketTaken(DateTimeOffset At, Rule Rule, string Part) : TrialEvent(At);

    /// <summary>A person closes the open ticket of a rule and part.</summary>
    /// <param name="At">When.</param>
    /// <param name="Rule">The ticket's rule.</param>
    /// <param name="Part">The ticket's part; empty for the whole station.</param>
    /// <param name="Outcome">How it ended.</param>
    /// <param name="Visit">The visit that ended it; null when nothing is known of one.</param>
    public sealed record TicketClosed(DateTimeOffset At, Rule Rule, string Part, TicketOutcome Outcome, PastVisit? Visit = null) : TrialEvent(At);

    /// <summary>A person was at the station: uses in this time are service uses.</summary>
    /// <param name="At">When the person came.</param>
    /// <param name="Until">…and went.</param>
    public sealed record Visited(DateTimeOffset At, DateTimeOffset Until) : TrialEvent(At);

    /// <summary>The station need not work: its access is closed, it is on the road, it is laid up.</summary>
    /// <param name="At">From when.</param>
    /// <param name="Until">The first instant after it; null while it lasts.</param>
    /// <param name="Reason">Why.</param>
    public sealed record NotRequired(DateTimeOffset At, DateTimeOffset? Until, QuietReason Reason) : TrialEvent(At);
}
