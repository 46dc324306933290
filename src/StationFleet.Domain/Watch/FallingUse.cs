using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Watch;

/// <summary>A tool's use day by day, for Falling use.</summary>
public sealed record FallingFacts
{
    /// <summary>Today's sessions that used it.</summary>
    public double DayUsed { get; init; }

    /// <summary>Today's sessions.</summary>
    public int DaySessions { get; init; }

    /// <summary>Sessions of learned days that used it, fading.</summary>
    public double Used { get; init; }

    /// <summary>Sessions of learned days, fading.</summary>
    public double Sessions { get; init; }

    /// <summary>Sessions seen so far.</summary>
    public int Seen { get; init; }

    /// <summary>The sum that rises while fewer sessions use it than used to.</summary>
    public double Score { get; init; }

    /// <summary>Days for which the sum has been raised, so that nothing was learned.</summary>
    public int RaisedDays { get; init; }
}

/// <summary>
/// The rule Falling use: clearly fewer sessions pick a tool up than used to, as when it works half. Only worth knowing: a change
/// of habits over the season looks the same.
/// </summary>
/// <remarks>
/// A cumulative sum, day by day, of the logarithm of the likelihood ratio of «four tenths of its share» against «its share», both
/// beta-binomial with φ = 10, never under 0. On at 8, off under 2. While the sum is raised nothing is learned, for 21 days at most.
/// Source of the method: E. S. Page, Biometrika 41, 100–115, 1954 (from memory).
/// </remarks>
public static class FallingUse
{
    /// <summary>The sum at which it comes on.</summary>
    public const double OnAt = 8;

    /// <summary>The sum under which it goes off.</summary>
    public const double OffUnder = 2;

    private const double Remaining = 0.4;
    private const double Scatter = 10;
    private const int LearnFirst = 60;
    private const double LearnUpTo = 0.5;
    private const int HoldDays = 21;

    /// <summary>More proves no more, and would take longer to go away.</summary>
    private const double HighestSum = 10;
    private static readonly double Fading = Math.Pow(2, -1.0 / 200);

    /// <summary>The share of sessions that used to pick a tool up.</summary>
    /// <param name="facts">The tool's use day by day.</param>
    public static double UsualShare(FallingFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return (facts.Used + 1) / (facts.Sessions + 3);
    }

    internal static void Take(ToolFacts tool, int sessions, bool wasUsed)
    {
        double share = UsualShare(tool.Falling);
        double used = !wasUsed ? 0 : sessions == 1 ? 1 : sessions * share / (1 - Math.Pow(1 - share, sessions));
        tool.Falling = tool.Falling with { DayUsed = tool.Falling.DayUsed + used, DaySessions = tool.Falling.DaySessions + sessions };
    }

    internal static void EndDay(ToolFacts tool)
    {
        FallingFacts facts = tool.Falling;
        if (facts.DaySessions == 0)
        {
            return;
        }

        (int sessions, int used) = (facts.DaySessions, Math.Min(facts.DaySessions, (int)Math.Round(facts.DayUsed)));
        double score = facts.Seen < LearnFirst ? 0 : Math.Clamp(facts.Score + LogRatio(used, sessions, UsualShare(facts)), 0, HighestSum);
        bool learns = score <= LearnUpTo || facts.RaisedDays >= HoldDays;
        double fade = learns ? Math.Pow(Fading, sessions) : 1;
        tool.Falling = new FallingFacts
        {
            Used = (facts.Used * fade) + (learns ? facts.DayUsed : 0),
            Sessions = (facts.Sessions * fade) + (learns ? sessions : 0),
            Seen = facts.Seen + sessions,
            Score = score,
            RaisedDays = score <= LearnUpTo ? 0 : facts.RaisedDays + 1,
        };
    }

    private static double LogRatio(int used, int sessions, double share) =>
        BetaBinomial.LogProbability(used, sessions, Remaining * share, Scatter) - BetaBinomial.LogProbability(used, sessions, share, Scatter);
}
