namespace StationFleet.Domain.Statistics;

/// <summary>A ratio of two sums that were observed together, such as uses for each boat over count shifts.</summary>
/// <param name="Ratio">Σy/Σx, with Fieller's limits at 95 %; the upper one is infinite when the data can't bound it.</param>
/// <param name="StandardError">Of the ratio.</param>
/// <param name="ResidualSd">√(Σ(y − r x)²/(n − 1)).</param>
/// <param name="Pairs">n.</param>
public sealed record RatioEstimate(Bounded Ratio, double StandardError, double ResidualSd, int Pairs)
{
    /// <summary>The ratio over pairs; null with fewer than two, or without any x.</summary>
    /// <param name="pairs">x and y of each; x ≥ 0.</param>
    /// <remarks>
    /// The ratio estimator of Cochran 1977 ch. 6 (from memory), without the correction for a finite number of pairs; limits by Fieller
    /// with t of n − 1 degrees of freedom.
    /// </remarks>
    public static RatioEstimate? Of(IReadOnlyCollection<(double X, double Y)> pairs)
    {
        int n = pairs.Count;
        (double x, double y) = (pairs.Sum(pair => pair.X), pairs.Sum(pair => pair.Y));
        if (n < 2 || x <= 0)
        {
            return null;
        }

        double ratio = y / x;
        (double meanX, double meanY) = (x / n, y / n);
        double residual = Math.Sqrt(pairs.Sum(pair => Math.Pow(pair.Y - (ratio * pair.X), 2)) / (n - 1));
        double scale = 1.0 / ((n - 1) * n);
        Bounded limits = Fieller(
            meanY,
            meanX,
            scale * pairs.Sum(pair => Math.Pow(pair.Y - meanY, 2)),
            scale * pairs.Sum(pair => Math.Pow(pair.X - meanX, 2)),
            scale * pairs.Sum(pair => (pair.Y - meanY) * (pair.X - meanX)),
            Quantiles.StudentT(0.975, n - 1));
        return new RatioEstimate(limits with { Low = Math.Max(0, limits.Low) }, residual / (Math.Sqrt(n) * meanX), residual, n);
    }

    /// <summary>Limits of a/b by Fieller's theorem; minus and plus infinity when b may be nothing.</summary>
    /// <param name="a">The estimate above the line.</param>
    /// <param name="b">The estimate below the line.</param>
    /// <param name="varianceA">Variance of a.</param>
    /// <param name="varianceB">Variance of b.</param>
    /// <param name="covariance">Covariance of a and b.</param>
    /// <param name="t">The quantile.</param>
    /// <remarks>E. C. Fieller, J. R. Stat. Soc. B 16, 175–185, 1954 (from memory).</remarks>
    internal static Bounded Fieller(double a, double b, double varianceA, double varianceB, double covariance, double t)
    {
        double bb = (b * b) - (t * t * varianceB);
        double ab = (a * b) - (t * t * covariance);
        double aa = (a * a) - (t * t * varianceA);
        double root = Math.Sqrt(Math.Max(0, (ab * ab) - (bb * aa)));
        return bb <= 0
            ? new Bounded(a / b, double.NegativeInfinity, double.PositiveInfinity)
            : new Bounded(a / b, (ab - root) / bb, (ab + root) / bb);
    }
}
