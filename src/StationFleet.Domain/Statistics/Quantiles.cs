using MathNet.Numerics;
using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace StationFleet.Domain.Statistics;

/// <summary>Quantiles and tails that limits and comparisons need.</summary>
public static class Quantiles
{
    /// <summary>The quantile of the standard normal distribution.</summary>
    /// <param name="probability">Between 0 and 1, both left out.</param>
    public static double Normal(double probability) => NormalDistribution.InvCDF(0, 1, probability);

    /// <summary>The quantile of Student's t distribution.</summary>
    /// <param name="probability">Between 0 and 1, both left out.</param>
    /// <param name="freedom">Degrees of freedom, above 0, not necessarily whole.</param>
    public static double StudentT(double probability, double freedom) => MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, freedom, probability);

    /// <summary>The chance that Student's t lies as far from 0 as a value, on either side.</summary>
    /// <param name="value">The value.</param>
    /// <param name="freedom">Degrees of freedom, above 0.</param>
    public static double StudentTail(double value, double freedom) =>
        SpecialFunctions.BetaRegularized(freedom / 2, 0.5, freedom / (freedom + (value * value)));
}
