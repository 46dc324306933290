using MathNet.Numerics.Distributions;

namespace StationFleet.Domain.Statistics;

/// <summary>The rank-sum test of two samples.</summary>
public static class RankSum
{
    private const int Fewest = 4;

    /// <summary>How probable a difference of ranks at least this large is when both samples are of one distribution, two-sided.</summary>
    /// <param name="one">The first sample, in any order.</param>
    /// <param name="other">The second sample, in any order.</param>
    /// <returns>The p-value, or null when a sample has fewer than four values or all values are the same.</returns>
    /// <remarks>
    /// Normal approximation with continuity correction and the correction for ties. Source: H. B. Mann and D. R. Whitney, Annals of
    /// Mathematical Statistics 18, 1947; the corrections as in R's wilcox.test (from memory).
    /// </remarks>
    public static double? PValue(IReadOnlyCollection<double> one, IReadOnlyCollection<double> other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        (double n, double m) = (one.Count, other.Count);
        if (n < Fewest || m < Fewest)
        {
            return null;
        }

        double above = one.Sum(value => other.Sum(against => value > against ? 1 : value == against ? 0.5 : 0));
        double ties = one.Concat(other).GroupBy(value => value).Sum(same => Math.Pow(same.Count(), 3) - same.Count());
        double variance = n * m / 12 * (n + m + 1 - (ties / ((n + m) * (n + m - 1))));
        if (variance <= 0)
        {
            return null;
        }

        double off = Math.Abs(above - (n * m / 2));
        return Math.Min(1, 2 * (1 - Normal.CDF(0, 1, Math.Max(0, off - 0.5) / Math.Sqrt(variance))));
    }
}
