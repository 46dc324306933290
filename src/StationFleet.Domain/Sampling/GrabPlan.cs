using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>What a tank is expected to be like when its sample is planned.</summary>
/// <param name="PerLitre">Organisms in a litre; positive.</param>
/// <param name="LitresPerGrab">Tank water looked at in each grab [L]; positive.</param>
/// <param name="Patchiness">What is known of patchiness.</param>
/// <param name="VolumeLnSd">Uncertainty of the tank's volume, as the standard deviation of its logarithm.</param>
public sealed record ExpectedTank(double PerLitre, double LitresPerGrab, Patchiness Patchiness, double VolumeLnSd);

/// <summary>How good a number of grabs would be.</summary>
/// <param name="Grabs">The grabs.</param>
/// <param name="Litres">Tank water looked at in all [L].</param>
/// <param name="ExpectedCount">Organisms counted in all, on average.</param>
/// <param name="Detection">The probability to find at least one.</param>
/// <param name="Factor">The interval would run from the estimate ÷ this to the estimate × this, about; infinite when its lower limit is 0.</param>
public sealed record GrabPlan(int Grabs, double Litres, double ExpectedCount, double Detection, double Factor)
{
    /// <summary>The most grabs that are looked into.</summary>
    public const int MostGrabs = 20;

    /// <summary>How good so many grabs would be.</summary>
    /// <param name="tank">What is expected.</param>
    /// <param name="grabs">1 or more.</param>
    /// <remarks>
    /// The interval is that of the expected count, rounded, with patchiness as it is known now: more replicates would teach more, so the
    /// plan is on the safe side. Its factor is √(high ÷ low).
    /// </remarks>
    public static GrabPlan Of(ExpectedTank tank, int grabs)
    {
        ArgumentNullException.ThrowIfNull(tank);
        ArgumentOutOfRangeException.ThrowIfLessThan(grabs, 1);
        double each = tank.PerLitre * tank.LitresPerGrab;
        double missed = 0;
        for (int i = 0; i < tank.Patchiness.Sizes.Count; i++)
        {
            missed += tank.Patchiness.Weights[i] * NegativeBinomial.AtMost(0, each * grabs, tank.Patchiness.Sizes[i] * grabs).Chance;
        }

        CountLimits limits = CountLimits.Of((int)Math.Round(each * grabs), tank.Patchiness, grabs).Spread(tank.VolumeLnSd, 1);
        return new GrabPlan(
            grabs,
            grabs * tank.LitresPerGrab,
            each * grabs,
            1 - missed,
            limits.Low > 0 ? Math.Sqrt(limits.High / limits.Low) : double.PositiveInfinity);
    }

    /// <summary>The fewest grabs that find an organism with a wanted probability; null when <see cref="MostGrabs"/> are too few.</summary>
    /// <param name="tank">What is expected.</param>
    /// <param name="probability">The wanted probability, between 0 and 1.</param>
    public static GrabPlan? ToDetect(ExpectedTank tank, double probability) => First(tank, plan => plan.Detection >= probability);

    /// <summary>The fewest grabs whose interval is narrow enough; null when <see cref="MostGrabs"/> are too few.</summary>
    /// <param name="tank">What is expected.</param>
    /// <param name="factor">The wanted factor, above 1: 2 for half to twice the estimate.</param>
    public static GrabPlan? ToNarrow(ExpectedTank tank, double factor) => First(tank, plan => plan.Factor <= factor);

    private static GrabPlan? First(ExpectedTank tank, Func<GrabPlan, bool> isEnough) =>
        Enumerable.Range(1, MostGrabs).Select(grabs => Of(tank, grabs)).FirstOrDefault(isEnough);
}
