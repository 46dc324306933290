using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Watch;

/// <summary>What the panels of other stations give of late, as a share of what they used to: haze and dull weeks are in all of them.</summary>
/// <param name="Stations">How many others within reach are known.</param>
/// <param name="MedianRatio">The median of their shares.</param>
public sealed record NeighbourPanels(int Stations, double MedianRatio)
{
    /// <summary>Fewer others say nothing.</summary>
    public const int LeastStations = 3;

    /// <summary>Others farther away have another sky [m].</summary>
    public const double WithinMetres = 150_000;

    /// <summary>Gathers the neighbours of one station; null when there are too few.</summary>
    /// <param name="ratios">The shares of the other stations within reach.</param>
    public static NeighbourPanels? Of(IReadOnlyCollection<double> ratios)
    {
        ArgumentNullException.ThrowIfNull(ratios);
        return ratios.Count < LeastStations ? null : new NeighbourPanels(ratios.Count, Math.Round(Quantiles.Of([.. ratios], 0.5), 3));
    }
}

/// <summary>How a panel compares with what it used to give.</summary>
/// <param name="Ratio">Its best days of the last two weeks as a share of its best days of the six weeks before; null until enough days were tested.</param>
/// <param name="Run">Tested days in a row, up to the last one, on which it did not come near what it used to give.</param>
/// <param name="Chance">How likely such a row is by the weather alone, 0 to 1.</param>
public readonly record struct PanelVerdict(double? Ratio, int Run, double Chance);

/// <summary>The rule Weak panel, first half: the panel gives less than it used to, while the battery asks for all it has.</summary>
/// <remarks>
/// A full battery throttles its panel, so a day's energy says nothing of a healthy station. Only quarter hours in bulk charging and
/// good light count; a day's figure is their 85 % quantile. The best days of the last two weeks (their 90 % quantile) are held
/// against those of the six weeks before. Since it is the dull days on which a battery asks for more, a row of poor days must also
/// be longer than the weather makes them: by how often a poor day followed a poor one in those six weeks. Shade for half of the day
/// hides from this by its nature. The method is this project's; no published source.
/// </remarks>
public static class WeakPanel
{
    /// <summary>How far over the limit the ratio must rise before the problem clears.</summary>
    public const double DeadBand = 0.05;

    /// <summary>A row of poor days that the weather alone brings more often than this proves nothing.</summary>
    public const double WeatherChance = 0.002;

    private const int LateDays = 14;
    private const int EarlierDays = 45;
    private const int LeastLate = 6;
    private const int LeastEarlier = 8;
    private const double BestDays = 0.9;

    // Before anything is known: after a poor day the next is poor with 60 %, as much as four days would tell.
    private const double FirstChance = 0.6;
    private const double FirstWeight = 4;

    /// <summary>What the panel gives of late as a share of what it used to; null until enough days were tested.</summary>
    /// <param name="tested">The tested days, in order.</param>
    internal static double? Ratio(ReadOnlySpan<PanelDay> tested) =>
        Split(tested) is var (late, earlier) && tested.Length - late >= LeastLate && late - earlier >= LeastEarlier
            ? Math.Round(Best(tested[late..]) / Best(tested[earlier..late]), 3)
            : null;

    /// <summary>Judges the tested days.</summary>
    /// <param name="tested">The tested days, in order.</param>
    /// <param name="limit">The least share of what it used to give, 0 to 1.</param>
    internal static PanelVerdict Judge(ReadOnlySpan<PanelDay> tested, double limit)
    {
        (int late, int earlier) = Split(tested);
        if (Ratio(tested) is not { } ratio)
        {
            return new PanelVerdict(null, 0, 1);
        }

        double least = limit * Best(tested[earlier..late]);
        int run = 0;
        while (run < tested.Length && tested[tested.Length - 1 - run].Share < least)
        {
            run++;
        }

        (double poor, double again) = (FirstWeight, FirstChance * FirstWeight);
        int known = Math.Min(late, tested.Length - run);
        for (int i = earlier + 1; i < known; i++)
        {
            if (tested[i - 1].Share < least)
            {
                poor++;
                again += tested[i].Share < least ? 1 : 0;
            }
        }

        return new PanelVerdict(ratio, run, run == 0 ? 1 : Math.Pow(again / poor, run - 1));
    }

    /// <summary>The best that the panel used to give, as a share of its rating under a clear sky; null until enough days were tested.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static double? Usual(StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        (int late, int earlier) = Split(facts.Power.Tested);
        return facts.Power.PanelRatio is null ? null : Best(facts.Power.Tested.AsSpan(earlier, late - earlier));
    }

    /// <summary>What is said of a station's panel beside those around: when all give less, the sky is to blame for that much.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="setup">The station.</param>
    /// <returns>Whether it is weak, and whether it is as it used to be or is judged anew.</returns>
    public static (bool IsWeak, bool IsClear) Judge(StationFacts facts, Fleet.StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        double limit = setup.Rules.WeakPanelShare * Math.Min(1, setup.NeighbourPanels?.MedianRatio ?? 1);
        PanelVerdict verdict = Judge(facts.Power.Tested, limit);
        return (
            verdict.Ratio < limit && verdict.Chance < WeatherChance,
            facts.Power.Tested.Length == 0 || verdict.Ratio >= limit + DeadBand);
    }

    /// <summary>The numbers behind it; null when nothing is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="setup">The station.</param>
    public static WeakPanelEvidence? Evidence(StationFacts facts, Fleet.StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        return facts.Power is { PanelRatio: { } ratio, Tested: [.., var last] }
            ? new WeakPanelEvidence(ratio, last.Date, setup.NeighbourPanels?.MedianRatio, setup.NeighbourPanels?.Stations)
            : null;
    }

    // Where the last two weeks begin, and the six weeks before.
    private static (int Late, int Earlier) Split(ReadOnlySpan<PanelDay> tested)
    {
        if (tested.IsEmpty)
        {
            return (0, 0);
        }

        DateOnly last = tested[^1].Date;
        int late = tested.Length;
        while (late > 0 && tested[late - 1].Date > last.AddDays(-LateDays))
        {
            late--;
        }

        int earlier = late;
        while (earlier > 0 && tested[earlier - 1].Date > last.AddDays(-LateDays - EarlierDays))
        {
            earlier--;
        }

        return (late, earlier);
    }

    private static double Best(ReadOnlySpan<PanelDay> days)
    {
        Span<double> shares = stackalloc double[days.Length];
        for (int i = 0; i < days.Length; i++)
        {
            shares[i] = days[i].Share;
        }

        return Quantiles.Of(shares, BestDays);
    }
}

/// <summary>The rule Weak panel, second half: nothing comes from the panel for two hours of sun.</summary>
/// <remarks>
/// The sun at least 15° high, 200 W/m² on the panel by a clear sky, under 0.5 % of its rating, and a battery under 90 % or one that
/// is drained meanwhile. The darkest cloud leaves a few per cent (an assumption, no source).
/// </remarks>
public static class DisconnectedPanel
{
    /// <summary>So many quarter hours in a row.</summary>
    internal const int Quarters = 8;

    /// <summary>A battery that loses so much in the sun would have taken what the panel gives, 0 to 1.</summary>
    internal const double LeastFall = 0.01;

    /// <summary>Whether nothing comes from the panel.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static bool IsOn(StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Power.IsDark;
    }

    /// <summary>The numbers behind it; null when nothing is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static NoPanelEvidence? Evidence(StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Power.DarkSince is { } since ? new NoPanelEvidence(since, facts.Charge?.Value) : null;
    }
}
