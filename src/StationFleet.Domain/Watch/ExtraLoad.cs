using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Extra load: at night, when nobody uses the station, it draws clearly more than it used to. Each night's figure is the
/// median over its quarter hours of the least load in each, so that a use in the dark does not count.
/// </summary>
/// <remarks>Two nights in a row against the median of up to four weeks before. Common practice, no source.</remarks>
public static class ExtraLoad
{
    private const int Late = 2;
    private const int LeastEarlier = 7;
    private const double LeastWatts = 0.5;
    private const double Leeway = 1.1;

    /// <summary>What it draws of late and used to draw at night [W]; null until enough nights are known.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static (double LateWatts, double UsualWatts)? Nights(StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        Span<double> nights = stackalloc double[facts.Power.Days.Length];
        int count = Known(facts.Power, nights);
        return count < Late + LeastEarlier
            ? null
            : (Math.Min(nights[count - 1], nights[count - Late]), Quantiles.Of(nights[..(count - Late)], 0.5));
    }

    /// <summary>What it used to draw at night [W], a little more included; null until enough nights are known.</summary>
    internal static double? UsualWatts(PowerFacts facts)
    {
        Span<double> nights = stackalloc double[facts.Days.Length];
        int count = Known(facts, nights);
        return count < Late + LeastEarlier ? null : Leeway * Quantiles.Of(nights[..(count - Late)], 0.5);
    }

    private static int Known(PowerFacts facts, Span<double> nights)
    {
        int count = 0;
        foreach (PowerDay day in facts.Days)
        {
            if (day.BaseWatts is { } watts)
            {
                nights[count++] = watts;
            }
        }

        return count;
    }

    /// <summary>Whether it draws so much more than it used to.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="moreShare">The least rise, as a share of the usual.</param>
    public static bool IsOn(StationFacts facts, double moreShare) => Nights(facts) is { } nights
        && nights.LateWatts > (1 + moreShare) * nights.UsualWatts && nights.LateWatts > nights.UsualWatts + LeastWatts;

    /// <summary>Whether it draws less than half as much more, or is judged anew.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="moreShare">The least rise, as a share of the usual.</param>
    public static bool IsClear(StationFacts facts, double moreShare) =>
        Nights(facts) is not { } nights || nights.LateWatts < (1 + (moreShare / 2)) * nights.UsualWatts;

    /// <summary>The numbers behind it; null until enough nights are known.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static ExtraLoadEvidence? Evidence(StationFacts facts) =>
        Nights(facts) is { } nights ? new ExtraLoadEvidence(nights.LateWatts, nights.UsualWatts) : null;
}
