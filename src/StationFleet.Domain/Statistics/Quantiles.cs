using MathNet.Numerics;
using NormalDistribution = MathNet.Numerics.Distributions.Normal;

namespace StationFleet.Domain.Statistics;

/// <summary>Quantiles of values and of distributions, and tails that comparisons need.</summary>
public static class Quantiles
{
    /// <summary>A quantile, between two values in a straight line.</summary>
    /// <param name="values">The values in any order, at least one; they are not changed.</param>
    /// <param name="share">0 for the least, 0.5 for the median, 1 for the greatest.</param>
    /// <remarks>Definition 7 of R. J. Hyndman and Y. Fan, The American Statistician 50 (1996) 361-365.</remarks>
    public static double Of(ReadOnlySpan<double> values, double share)
    {
        ArgumentOutOfRangeException.ThrowIfZero(values.Length, nameof(values));
        Span<double> sorted = values.Length <= 128 ? stackalloc double[values.Length] : new double[values.Length];
        values.CopyTo(sorted);
        sorted.Sort();
        double place = share * (sorted.Length - 1);
        int below = (int)place;
        return below + 1 < sorted.Length ? sorted[below] + ((place - below) * (sorted[below + 1] - sorted[below])) : sorted[below];
    }

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
