namespace StationFleet.Domain.Statistics;

/// <summary>Limits of the mean behind a count, with the point that splits them evenly.</summary>
/// <param name="Low">The lower limit at 95 %, two-sided; 0 when nothing was counted.</param>
/// <param name="Median">The median-unbiased value: it lies above and below the truth equally often.</param>
/// <param name="High">The upper limit at 95 %, two-sided.</param>
/// <remarks>
/// Exact limits of the negative binomial distribution, mixed over what is known of patchiness: P(X ≤ x | High) = 0.025,
/// P(X ≤ x | Median) = 0.5, P(X ≤ x − 1 | Low) = 0.975. In well-mixed water they are Garwood's.
/// </remarks>
public readonly record struct CountLimits(double Low, double Median, double High)
{
    private const double Tail = 0.025;
    private const double NegligibleWeight = 1e-13;
    private const double LongestStep = 1.5;
    private const double CloseEnough = 1e-11;

    /// <summary>The limits of a total count.</summary>
    /// <param name="count">All organisms that were counted; 0 or more.</param>
    /// <param name="patchiness">What is known of patchiness between grabs.</param>
    /// <param name="grabs">How many grabs of equal volume they are worth: (Σw)²/Σw², 1 or more.</param>
    public static CountLimits Of(int count, Patchiness patchiness, double grabs)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentNullException.ThrowIfNull(patchiness);
        ArgumentOutOfRangeException.ThrowIfLessThan(grabs, 1 - 1e-9);
        List<(double Size, double Weight)> nodes = [];
        for (int i = 0; i < patchiness.Sizes.Count; i++)
        {
            if (patchiness.Weights[i] > NegligibleWeight)
            {
                nodes.Add((patchiness.Sizes[i] * grabs, patchiness.Weights[i]));
            }
        }

        double median = Solve(count, 0.5, nodes, count + (2 / 3.0));
        double sd = Math.Sqrt((1 / median) + (patchiness.MeanSquareCv / grabs));
        double high = Solve(count, Tail, nodes, median * Math.Exp(2 * Math.Min(sd, 1)));
        double low = count == 0 ? 0 : Solve(count - 1, 1 - Tail, nodes, median * Math.Exp(-2 * Math.Min(sd, 1)));
        return new CountLimits(low, median, high);
    }

    /// <summary>The limits drawn wider by an independent factor that is lognormal around 1, and narrower for what was examined.</summary>
    /// <param name="lnSd">The factor's standard deviation on the log scale; 0 or more.</param>
    /// <param name="shareUnseen">The share of the whole that was not examined: 1 for a small sample.</param>
    /// <remarks>
    /// Distances from the median are added in squares on the log scale (MOVER: G. Y. Zou and A. Donner, Stat. Med. 27, 1693–1702,
    /// 2008, from memory). The finite whole shortens the count's distances by √(unseen share).
    /// </remarks>
    public CountLimits Spread(double lnSd, double shareUnseen)
    {
        double factor = Math.Sqrt(shareUnseen);
        double other = Quantiles.Normal(1 - Tail) * lnSd;
        return new CountLimits(
            Low > 0 ? Median * Math.Exp(-Hypotenuse(factor * Math.Log(Median / Low), other)) : 0,
            Median,
            Median * Math.Exp(Hypotenuse(factor * Math.Log(High / Median), other)));
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));

    // Newton's steps in ln M, kept between what is known to be too low and too high.
    private static double Solve(int count, double target, List<(double Size, double Weight)> nodes, double start)
    {
        (double tooLow, double tooHigh) = (double.NegativeInfinity, double.PositiveInfinity);
        double log = Math.Log(start);
        for (int i = 0; i < 200; i++)
        {
            double mean = Math.Exp(log);
            (double chance, double slope) = (0, 0);
            foreach ((double size, double weight) in nodes)
            {
                (double one, double change) = NegativeBinomial.AtMost(count, mean, size);
                chance += weight * one;
                slope += weight * change;
            }

            double off = chance - target;
            (tooLow, tooHigh) = off > 0 ? (log, tooHigh) : (tooLow, log);
            double step = Math.Clamp(-off / (slope * mean), -LongestStep, LongestStep);
            if (Math.Abs(step) < CloseEnough)
            {
                return Math.Exp(log + step);
            }

            double next = log + (double.IsNaN(step) ? Math.Sign(off) * LongestStep : step);
            log = next > tooLow && next < tooHigh ? next : (tooLow + tooHigh) / 2;
            if (tooHigh - tooLow < CloseEnough)
            {
                break;
            }
        }

        return Math.Exp(log);
    }
}
