namespace StationFleet.Domain.Watch;

/// <summary>How odd it is that nobody uses a station at present.</summary>
/// <param name="Since">Since when nothing was used.</param>
/// <param name="Expected">Use sessions that were expected since then.</param>
/// <param name="Chance">How likely a working station is left alone so long, 0 to 1.</param>
/// <param name="AlarmUnder">The chance under which it is an alarm.</param>
public sealed record UnusedVerdict(DateTimeOffset Since, double Expected, double Chance, double AlarmUnder)
{
    /// <summary>Whether it is an alarm.</summary>
    public bool IsUnused => Chance < AlarmUnder;
}

/// <summary>
/// The rule Station unused: no tool at all is used while reports come in and sessions were expected. It sees what Idle tool
/// cannot: a breaker, a closed gate, an access that nobody said is closed.
/// </summary>
/// <remarks>
/// Sessions of a day are Poisson around a level that scatters by a gamma distribution; the days before tell where it lies at
/// present, with a memory that fades from day to day, so that a rainy week explains silence. The chance of no session since the
/// last one is the product over its days of ((κ + e)/(κ + e + λ))^(κ + o): κ the shape of the scatter, o and e the sessions seen and
/// expected of late, λ those expected that day.
/// </remarks>
public static class StationUnused
{
    /// <summary>How much of what a day was like holds for the next.</summary>
    internal const double Memory = 0.5;

    /// <summary>Fewer expected sessions than this are never an alarm.</summary>
    private const double LeastExpected = 6;
    private const double DaysNeeded = 10;

    /// <summary>How odd the present silence of all tools is; null when too little is known of the station's use.</summary>
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

        // Nothing is known of the time since the newest reading.
        DateTimeOffset until = known < now ? known : now;
        double shape = sessions.DayShape;
        (double seen, double foreseen) = (sessions.OfLate, sessions.ExpectedOfLate);
        (DateOnly day, DateTimeOffset dayStart) = context.DayOf(last);
        seen += sessions.Day == day ? sessions.OnDay : 0;
        foreseen += sessions.Expected(dayStart, last, context);
        (double expected, double log) = (0, 0);
        for (DateTimeOffset at = since; at < until;)
        {
            DateTimeOffset end = context.NextDay(at);
            end = end < until ? end : until;
            double ofDay = sessions.Expected(at, end, context);
            log += (shape + seen) * Math.Log((shape + foreseen) / (shape + foreseen + ofDay));
            expected += ofDay;
            (seen, foreseen) = (Memory * seen, Memory * (foreseen + ofDay));
            at = end;
        }

        double level = context.Setup.Rules.UnusedFalseAlarms / IdleTool.SeasonDays;
        return new UnusedVerdict(since, expected, expected < LeastExpected ? 1 : Math.Exp(log), level);
    }

    private static DateTimeOffset Later(DateTimeOffset a, DateTimeOffset? b) => b > a ? b.Value : a;
}
