namespace StationFleet.Domain.Statistics;

/// <summary>Quantiles of a handful of values.</summary>
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
}
