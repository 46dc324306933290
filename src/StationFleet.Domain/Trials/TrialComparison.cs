using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>The tickets of one past under today's limits and under others, paired where they tell of the same thing.</summary>
/// <param name="Pairs">The pairs, by the earlier time of raising.</param>
public sealed record TrialComparison(IReadOnlyList<TicketPair> Pairs)
{
    /// <summary>How many tickets today's limits raised.</summary>
    public int Today => Pairs.Count(pair => pair.Today is not null);

    /// <summary>How many tickets the new limits raised.</summary>
    public int New => Pairs.Count(pair => pair.New is not null);

    /// <summary>Pairs tickets: of the same rule and part, and while both were open or their problem was on.</summary>
    /// <param name="today">The tickets under today's limits, by the time of raising.</param>
    /// <param name="others">The tickets under the new limits, by the time of raising.</param>
    public static TrialComparison Of(IReadOnlyList<PastTicket> today, IReadOnlyList<PastTicket> others)
    {
        ArgumentNullException.ThrowIfNull(today);
        ArgumentNullException.ThrowIfNull(others);
        List<PastTicket> free = [.. others];
        List<TicketPair> pairs = [];
        foreach (PastTicket ticket in today)
        {
            PastTicket? twin = free.Find(other => IsSameTime(ticket, other));
            pairs.Add(new TicketPair(ticket, twin, twin is null && others.Any(other => IsWithin(ticket, other))));
            _ = twin is not null && free.Remove(twin);
        }

        pairs.AddRange(free.Select(ticket => new TicketPair(null, ticket, today.Any(other => IsWithin(ticket, other)))));
        return new TrialComparison([.. pairs.OrderBy(pair => pair.First)]);
    }

    private static bool IsSameTime(PastTicket one, PastTicket other) =>
        (one.Rule, one.Part) == (other.Rule, other.Part) && one.Raised <= EndOf(other) && other.Raised <= EndOf(one);

    private static bool IsWithin(PastTicket ticket, PastTicket other) => IsSameTime(ticket, other) && other.Raised <= ticket.Raised;

    private static DateTimeOffset EndOf(PastTicket ticket) => ticket.Closed ?? DateTimeOffset.MaxValue;
}

/// <summary>One thing that went wrong, as today's limits and as the new ones told of it.</summary>
/// <param name="Today">The ticket under today's limits; null when they raised none.</param>
/// <param name="New">The ticket under the new limits; null when they raised none.</param>
/// <param name="IsWithin">One of both raised none, since an earlier ticket of the same kind was still open.</param>
public sealed record TicketPair(PastTicket? Today, PastTicket? New, bool IsWithin = false)
{
    /// <summary>Differences up to this are told as none: nobody would have gone earlier for them.</summary>
    public static readonly TimeSpan Hardly = TimeSpan.FromHours(1);

    /// <summary>The rule.</summary>
    public Rule Rule => Shown.Rule;

    /// <summary>The part it is about: a tool's slug, or empty.</summary>
    public string Part => Shown.Part;

    /// <summary>When the first of both was raised.</summary>
    public DateTimeOffset First => Today?.Raised < New?.Raised ? Today.Raised : Shown.Raised;

    /// <summary>The ticket that speaks for both: that of the new limits, if there is one.</summary>
    public PastTicket Shown => New ?? Today!;

    /// <summary>How much earlier the new limits told of it; negative: later; null when only one of both did.</summary>
    public TimeSpan? Earlier => Today?.Raised - New?.Raised;
}
