using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>What people did at a station in a past that is tried again with the same limits or with others.</summary>
/// <param name="Events">What they did, in any order.</param>
/// <param name="Tickets">The tickets that there were.</param>
/// <remarks>
/// A ticket of a trial that has no twin among those of then was never closed by anybody. Left open it would swallow the next one
/// of its kind, so it is closed a day after its problem cleared by itself.
/// </remarks>
public sealed record WhatPeopleDid(IReadOnlyList<TrialEvent> Events, IReadOnlyList<TicketThen> Tickets)
{
    private static readonly TimeSpan LeftOpen = TimeSpan.FromDays(1);

    /// <summary>Nobody did anything.</summary>
    public static WhatPeopleDid Nothing { get; } = new([], []);

    /// <summary>The closings of tickets that nobody closed then and that have nothing to say any more.</summary>
    /// <param name="tickets">The trial's tickets.</param>
    /// <param name="now">The instant that the trial has reached.</param>
    internal IEnumerable<TrialEvent.TicketClosed> Closings(IEnumerable<PastTicket> tickets, DateTimeOffset now) =>
        from ticket in tickets
        where ticket.Closed is null && now - ticket.ProblemCleared >= LeftOpen && !Tickets.Any(then => then.IsOf(ticket) && then.IsOpenAt(now))
        select new TrialEvent.TicketClosed(now, ticket.Rule, ticket.Part, TicketOutcome.ClearedByItself);
}

/// <summary>A ticket of then.</summary>
/// <param name="Rule">Its rule.</param>
/// <param name="Part">The part it was about.</param>
/// <param name="Raised">When it was raised.</param>
/// <param name="Done">When its work was done; null while it is open.</param>
public sealed record TicketThen(Rule Rule, string Part, DateTimeOffset Raised, DateTimeOffset? Done)
{
    internal bool IsOf(PastTicket ticket) => Rule == ticket.Rule && Part == ticket.Part;

    internal bool IsOpenAt(DateTimeOffset instant) => Raised <= instant && !(Done <= instant);
}
