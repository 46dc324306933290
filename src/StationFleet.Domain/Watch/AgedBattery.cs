using StationFleet.Domain.Power;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Aged battery: night after night the charge falls as if the battery held much less than it is rated for. A controller
/// that counts with the rated capacity hides that; one that goes by the voltage or a learned capacity shows it.
/// </summary>
/// <remarks>Median over the last nights of what was drawn divided by the fall of the charge. Common practice, no source.</remarks>
public static class AgedBattery
{
    /// <summary>Under this share of its rating it comes on…</summary>
    public const double OnUnder = 0.60;

    /// <summary>…and from this one it clears.</summary>
    public const double OffFrom = 0.70;

    private const int Nights = 7;
    private const int LeastNights = 4;
    private static readonly (double Least, double Most) Believable = (0.2, 1.2);

    /// <summary>What the battery holds by its last nights [Wh]; null until enough are known, or when the charge is not reported.</summary>
    /// <param name="facts">What is known of the station.</param>
    public static double? HoldsWattHours(StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        Span<double> nights = stackalloc double[Nights];
        int count = 0;
        for (int i = facts.Power.Days.Length - 1; i >= 0 && count < Nights; i--)
        {
            if (facts.Power.Days[i].HoldsWattHours is { } holds)
            {
                nights[count++] = holds;
            }
        }

        return count < LeastNights || facts.Power.Source != ChargeSource.Reported ? null : Math.Round(Quantiles.Of(nights[..count], 0.5));
    }

    /// <summary>What forecasts reckon with [Wh]: what it holds by its nights, within reason, or what it is rated for.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery.</param>
    public static double ReckonedWattHours(StationFacts facts, PowerSetup power)
    {
        ArgumentNullException.ThrowIfNull(power);
        double rated = power.CapacityWh;
        return HoldsWattHours(facts) is { } holds ? Math.Clamp(holds, Believable.Least * rated, Believable.Most * rated) : rated;
    }

    /// <summary>The numbers behind it; null when nothing is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery.</param>
    public static AgedBatteryEvidence? Evidence(StationFacts facts, PowerSetup power)
    {
        ArgumentNullException.ThrowIfNull(power);
        return HoldsWattHours(facts) is { } holds ? new AgedBatteryEvidence(holds, power.CapacityWh) : null;
    }
}
