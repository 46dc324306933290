using MathNet.Numerics.Distributions;

namespace StationFleet.Domain.Statistics;

/// <summary>Compares two counts of events, each over its own time.</summary>
public static class PoissonRates
{
    // Sums of probabilities that ought to be the same differ in their last digits.
    private const double Slack = 1 + 1e-7;

    /// <summary>How probable a difference at least this unlikely is when both rates are the same, two-sided.</summary>
    /// <param name="count">Events of the first; 0 or more.</param>
    /// <param name="time">Time watched of the first; positive, in any unit.</param>
    /// <param name="otherCount">Events of the second; 0 or more.</param>
    /// <param name="otherTime">Time watched of the second, in the same unit; positive.</param>
    /// <returns>The p-value, 0 to 1.</returns>
    /// <remarks>
    /// Exact and conditional: given the sum, the first count is binomial. Two-sided as the sum of all outcomes that are no more
    /// probable than the one seen, as R's poisson.test does. Source: J. Przyborowski and H. Wilenski, Biometrika 31, 1940 (from memory).
    /// </remarks>
    public static double PValue(int count, double time, int otherCount, double otherTime)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfNegative(otherCount);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(time);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(otherTime);
        int sum = count + otherCount;
        double share = time / (time + otherTime);
        double seen = Binomial.PMF(share, sum, count) * Slack;
        double p = 0;
        for (int i = 0; i <= sum; i++)
        {
            double each = Binomial.PMF(share, sum, i);
            p += each <= seen ? each : 0;
        }

        return Math.Min(1, p);
    }
}
