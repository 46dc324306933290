using MathNet.Numerics;

namespace StationFleet.Domain.Statistics;

/// <summary>Counts with a mean M and a size K: variance M + M²/K. An infinite size is the Poisson distribution.</summary>
/// <remarks>Source of the use for counted animals: C. I. Bliss and R. A. Fisher, Biometrics 9, 176–200, 1953 (values checked, text from memory).</remarks>
public static class NegativeBinomial
{
    // Up to here, adding up is quicker than the incomplete beta function, and as exact.
    private const int AddedUpTo = 60;

    /// <summary>The logarithm of the probability of a count.</summary>
    /// <param name="count">x ≥ 0.</param>
    /// <param name="mean">M > 0.</param>
    /// <param name="size">K > 0; may be infinite.</param>
    public static double LogProbability(int count, double mean, double size)
    {
        Check(count, mean, size);
        return double.IsPositiveInfinity(size)
            ? (count * Math.Log(mean)) - mean - SpecialFunctions.FactorialLn(count)
            : SpecialFunctions.GammaLn(size + count) - SpecialFunctions.GammaLn(size) - SpecialFunctions.FactorialLn(count)
                - ((size + count) * Math.Log(1 + (mean / size))) + (count * Math.Log(mean / size));
    }

    /// <summary>The probability of at most a count, and how it changes with the mean.</summary>
    /// <param name="count">x ≥ 0.</param>
    /// <param name="mean">M > 0.</param>
    /// <param name="size">K > 0; may be infinite.</param>
    /// <returns>P(X ≤ x), and its derivative by M, which is negative.</returns>
    /// <remarks>
    /// I(K/(K+M); K, x+1), the regularised incomplete beta function, or Q(x+1, M), the upper incomplete gamma function. The derivative
    /// is −P(X = x) (K + x)/(K + M).
    /// </remarks>
    public static (double Chance, double Slope) AtMost(int count, double mean, double size)
    {
        Check(count, mean, size);
        bool isPoisson = double.IsPositiveInfinity(size);
        double share = isPoisson ? 1 : (size + count) / (size + mean);
        if (count > AddedUpTo)
        {
            double chance = isPoisson
                ? SpecialFunctions.GammaUpperRegularized(count + 1.0, mean)
                : SpecialFunctions.BetaRegularized(size, count + 1.0, size / (size + mean));
            return (chance, -share * Math.Exp(LogProbability(count, mean, size)));
        }

        double ratio = isPoisson ? mean : mean / (size + mean);
        double term = Math.Exp(isPoisson ? -mean : -size * Math.Log(1 + (mean / size)));
        double sum = term;
        for (int i = 0; i < count; i++)
        {
            term *= ratio * (isPoisson ? 1 : size + i) / (i + 1);
            sum += term;
        }

        return (sum, -share * term);
    }

    private static void Check(int count, double mean, double size)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        if (!(mean > 0 && size > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(mean), mean, "Mean and size are above 0.");
        }
    }
}
