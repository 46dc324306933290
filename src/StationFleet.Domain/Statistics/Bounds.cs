using MathNet.Numerics.Distributions;

namespace StationFleet.Domain.Statistics;

/// <summary>A figure with the bounds between which it lies with 95 % confidence.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Low">The lower bound.</param>
/// <param name="High">The upper bound; may be infinite.</param>
public readonly record struct Bounded(double Value, double Low, double High);

/// <summary>Bounds at 95 % for what was counted or ordered.</summary>
public static class Bounds
{
    private const double Tail = 0.025;

    /// <summary>Events per unit, from a Poisson count.</summary>
    /// <param name="count">Events; 0 or more.</param>
    /// <param name="units">Units watched; positive.</param>
    /// <remarks>Exact, by the χ² distribution. Source: F. Garwood, Biometrika 28, 437–442, 1936 (from memory).</remarks>
    public static Bounded Rate(int count, double units)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(units);
        CountLimits limits = CountLimits.Of(count, Patchiness.Known(double.PositiveInfinity), 1);
        return new Bounded(count / units, limits.Low / units, limits.High / units);
    }

    /// <summary>A share of trials.</summary>
    /// <param name="count">Successes.</param>
    /// <param name="trials">Trials; positive, not fewer than the successes.</param>
    /// <remarks>Exact, by the beta distribution. Source: C. J. Clopper and E. S. Pearson, Biometrika 26, 404–413, 1934 (from memory).</remarks>
    public static Bounded Share(int count, int trials)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, Math.Max(1, count));
        double low = count == 0 ? 0 : Beta.InvCDF(count, trials - count + 1, Tail);
        double high = count == trials ? 1 : Beta.InvCDF(count + 1, trials - count, 1 - Tail);
        return new Bounded((double)count / trials, low, high);
    }

    /// <summary>A share of trials that come in clusters, such as forecasts of one season, which hit or miss together.</summary>
    /// <param name="clusters">Successes and trials of each cluster; those without trials say nothing.</param>
    /// <returns>NaN without any trial; bounds of 0 to 1 with fewer than two clusters.</returns>
    /// <remarks>
    /// Ratio estimator with its linearised variance between clusters and Student's t. Source: W. G. Cochran, Sampling Techniques, 3rd
    /// ed. 1977, ch. 6 (from memory).
    /// </remarks>
    public static Bounded ClusteredShare(IEnumerable<(int Count, int Trials)> clusters)
    {
        (int Count, int Trials)[] own = [.. clusters.Where(cluster => cluster.Trials > 0)];
        double trials = own.Sum(cluster => cluster.Trials);
        double share = own.Sum(cluster => cluster.Count) / trials;
        if (own.Length < 2)
        {
            return new Bounded(share, 0, 1);
        }

        double squares = own.Sum(cluster => Math.Pow(cluster.Count - (share * cluster.Trials), 2));
        double error = Math.Sqrt(own.Length / (own.Length - 1.0) * squares) / trials;
        double t = StudentT.InvCDF(0, 1, own.Length - 1, 1 - Tail);
        return new Bounded(share, Math.Max(0, share - (t * error)), Math.Min(1, share + (t * error)));
    }

    /// <summary>A share of trials, by limits that are narrower than the exact ones and right on average.</summary>
    /// <param name="count">Successes.</param>
    /// <param name="trials">Trials; positive, not fewer than the successes.</param>
    /// <remarks>E. B. Wilson, J. Am. Stat. Assoc. 22, 209–212, 1927 (from memory).</remarks>
    public static Bounded ScoreShare(int count, int trials)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, Math.Max(1, count));
        Bounded limits = ScoreShare((double)count / trials, trials, Quantiles.Normal(1 - Tail));
        return limits with { Low = count == 0 ? 0 : limits.Low, High = count == trials ? 1 : limits.High };
    }

    /// <summary>Wilson's limits of a share that is worth so many independent trials.</summary>
    /// <param name="share">0 to 1.</param>
    /// <param name="trials">Positive, not necessarily whole.</param>
    /// <param name="quantile">Of the normal distribution, or of Student's t where the scatter is itself estimated.</param>
    public static Bounded ScoreShare(double share, double trials, double quantile)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trials);
        double square = quantile * quantile;
        double middle = (share + (square / (2 * trials))) / (1 + (square / trials));
        double half = quantile * Math.Sqrt((share * (1 - share) / trials) + (square / (4 * trials * trials))) / (1 + (square / trials));
        return new Bounded(share, Math.Max(0, middle - half), Math.Min(1, middle + half));
    }

    /// <summary>The median of values of which the largest may be infinite (never seen).</summary>
    /// <param name="values">Shape (n,), in any order; n of 0 gives NaN.</param>
    /// <remarks>
    /// The bounds are order statistics of the sign test, at least 95 % confident without any assumption on the distribution; with
    /// fewer than 6 values they are the least and the greatest possible.
    /// </remarks>
    public static Bounded Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        if (sorted.Length == 0)
        {
            return new Bounded(double.NaN, double.NaN, double.NaN);
        }

        int rank = 0;
        while (rank < (sorted.Length - 1) / 2 && Binomial.CDF(0.5, sorted.Length, rank) <= Tail)
        {
            rank++;
        }

        bool isWide = Binomial.CDF(0.5, sorted.Length, 0) > Tail;
        (double low, double high) = isWide ? (double.NegativeInfinity, double.PositiveInfinity) : (sorted[rank - 1], sorted[^rank]);
        return new Bounded(Middle(sorted), low, high);
    }

    private static double Middle(double[] sorted)
    {
        double upper = sorted[sorted.Length / 2];
        double lower = sorted[(sorted.Length - 1) / 2];
        return lower == upper ? upper : (lower + upper) / 2;
    }
}
