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

/// <summary>The rule Weak panel, first half: the panel gives less than it used to, while the battery asks for all it has.</summary>
/// <remarks>
/// A full battery throttles its panel, so a day's energy says nothing of a healthy station. Only quarter hours in bulk charging and
/// good light count; a day's figure is their 85 % quantile. The best days of the last two weeks (their 90 % quantile) are held
/// against those of the six weeks before. Shade for half of the day hides from this by its nature. The method and its quantiles are
/// this project's; no published source.
/// </remarks>
public static class WeakPanel
{
    /// <summary>How far over the limit the ratio must rise before the problem clears.</summary>
    public const double DeadBand = 0.05;

    private const int LateDays = 14;
    private const int EarlierDays = 45;
    private const int LeastLate = 6;
    private const int LeastEarlier = 8;
    private const double BestDays = 0.9;

    /// <summary>What the panel gives of late as a share of what it used to; null until enough days were tested.</summary>
    /// <param name="tested">The tested days, in order.</param>
    /// <param name="back">Seen from the last tested day (0) or so many before it.</param>
    internal static double? Ratio(ReadOnlySpan<PanelDay> tested, int back)
    {
        int count = tested.Length - back;
        if (count < LeastLate + LeastEarlier)
        {
            return null;
        }

        DateOnly last = tested[count - 1].Date;
        int lateFrom = count;
        while (lateFrom > 0 && tested[lateFrom - 1].Date > last.AddDays(-LateDays))
        {
            lateFrom--;
        }

        int earlierFrom = lateFrom;
        while (earlierFrom > 0 && tested[earlierFrom - 1].Date > last.AddDays(-LateDays - EarlierDays))
        {
            earlierFrom--;
        }

        return count - lateFrom < LeastLate || lateFrom - earlierFrom < LeastEarlier
            ? null
            : Math.Round(Best(tested[lateFrom..count]) / Best(tested[earlierFrom..lateFrom]), 3);
    }

    /// <summary>Whether it has been weak on two tested days in a row.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="setup">The station.</param>
    public static bool IsWeak(StationFacts facts, Fleet.StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        return BesideOthers(facts.Power.PanelRatio, setup) < setup.Rules.WeakPanelShare
            && BesideOthers(facts.Power.PanelRatioBefore, setup) < setup.Rules.WeakPanelShare;
    }

    /// <summary>Whether it is as it used to be, or is judged anew.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="setup">The station.</param>
    public static bool IsClear(StationFacts facts, Fleet.StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        return facts.Power.Tested.Length == 0 || BesideOthers(facts.Power.PanelRatio, setup) >= setup.Rules.WeakPanelShare + DeadBand;
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

    // When all panels around give less, the sky is to blame for that much.
    private static double? BesideOthers(double? ratio, Fleet.StationSetup setup) => ratio / Math.Min(1, setup.NeighbourPanels?.MedianRatio ?? 1);

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
