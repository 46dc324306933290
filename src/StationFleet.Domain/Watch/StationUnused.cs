using static StationFleet.Domain.Time.Instants;

namespace StationFleet.Domain.Watch;

/// <summary>How long nobody has used a station, in the sessions that were expected meanwhile.</summary>
/// <param name="Since">Since when nothing was used.</param>
/// <param name="Expected">Use sessions that were expected since then.</param>
public readonly record struct UnusedVerdict(DateTimeOffset Since, double Expected);

/// <summary>
/// The rule Station unused: no tool at all is used while reports come in and sessions were expected. It sees what Idle tool
/// cannot: a breaker, a closed gate, an access that nobody said is closed.
/// </summary>
/// <remarks>
/// Sessions are expected by weekday and hour as learned, times known events, times how the days just before were: after dull days
/// fewer are expected, so that a rainy week explains silence. A dull spell that begins with the silence looks like a broken
/// station at first; so the ticket waits for clearly more sessions than the word that it is due soon.
/// </remarks>
public static class StationUnused
{
    /// <summary>How much of what a day was like holds for the next.</summary>
    internal const double Memory = 0.6;
    private const double WeightOfUsual = 3;
    private const double DaysNeeded = 10;

    /// <summary>How many sessions have failed to come; null when too little is known of the station's use, or it is in use.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static UnusedVerdict? Judge(StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        SessionFacts sessions = facts.Sessions;
        if (facts.Session is not null || sessions.LastAt is not { } last || sessions.KnownDays < DaysNeeded || facts.LastAt is not { } known)
        {
            return null;
        }

        DateTimeOffset since = Later(Later(last, sessions.UnknownUntil), context.Quiet.LastEnd(now));
        (DateOnly day, DateTimeOffset dayStart) = context.DayOf(last);
        double seen = sessions.OfLate + (sessions.Day == day ? sessions.OnDay : 0);
        double foreseen = sessions.ExpectedOfLate + sessions.Expected(dayStart, last, context);
        double dullness = Math.Min(1, (WeightOfUsual + seen) / (WeightOfUsual + foreseen));

        // Nothing is known of the time since the newest reading.
        DateTimeOffset until = known < now ? known : now;
        return new UnusedVerdict(since, until > since ? dullness * sessions.Expected(since, until, context) : 0);
    }
}
