using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace StationFleet.Domain.Statistics;

/// <summary>
/// Counts of successes among n trials whose chance varies from group to group by a beta distribution: the binomial with more
/// scatter. Written by its mean μ and its concentration φ: A = μφ, B = (1 − μ)φ; the correlation inside a group is 1/(φ + 1).
/// </summary>
/// <remarks>Source of the distribution: J. G. Skellam, J. R. Stat. Soc. B 10(2), 257–261, 1948 (from memory).</remarks>
public static class BetaBinomial
{
    private const int MultipliedUpTo = 40;

    /// <summary>The logarithm of the probability of no success.</summary>
    /// <param name="trials">n ≥ 0.</param>
    /// <param name="mean">μ, between 0 and 1, both left out.</param>
    /// <param name="concentration">φ > 0.</param>
    /// <remarks>Γ(B+n) Γ(A+B) / (Γ(B) Γ(A+B+n)); multiplied out for few trials, which is quicker and as exact.</remarks>
    public static double LogNone(int trials, double mean, double concentration)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(trials);
        Check(mean, concentration);
        double b = (1 - mean) * concentration;
        if (trials > MultipliedUpTo)
        {
            return SpecialFunctions.GammaLn(b + trials) + SpecialFunctions.GammaLn(concentration)
                - SpecialFunctions.GammaLn(b) - SpecialFunctions.GammaLn(concentration + trials);
        }

        double product = 1;
        for (int i = 0; i < trials; i++)
        {
            product *= (b + i) / (concentration + i);
        }

        return Math.Log(product);
    }

    /// <summary>The logarithm of the probability of k successes.</summary>
    /// <param name="successes">k, 0 to n.</param>
    /// <param name="trials">n ≥ 0.</param>
    /// <param name="mean">μ, between 0 and 1, both left out.</param>
    /// <param name="concentration">φ > 0.</param>
    /// <remarks>C(n, k) B(k + A, n − k + B) / B(A, B).</remarks>
    public static double LogProbability(int successes, int trials, double mean, double concentration)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(successes);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(successes, trials);
        Check(mean, concentration);
        (double a, double b) = (mean * concentration, (1 - mean) * concentration);
        return SpecialFunctions.BinomialLn(trials, successes)
            + SpecialFunctions.BetaLn(successes + a, trials - successes + b) - SpecialFunctions.BetaLn(a, b);
    }

    /// <summary>Means that stand for a beta distribution: its quantiles at (i + ½)/k, rising.</summary>
    /// <param name="a">Its first parameter, above 0.</param>
    /// <param name="b">Its second parameter, above 0.</param>
    /// <param name="count">k ≥ 1.</param>
    /// <returns>Shape (k,), each between 0 and 1, both left out.</returns>
    public static double[] Nodes(double a, double b, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        double[] nodes = new double[count];
        for (int i = 0; i < count; i++)
        {
            nodes[i] = Math.Clamp(Beta.InvCDF(a, b, (i + 0.5) / count), 1e-9, 1 - 1e-9);
        }

        return nodes;
    }

    private static void Check(double mean, double concentration)
    {
        if (!(mean > 0 && mean < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(mean), mean, "The mean lies between 0 and 1.");
        }

        if (!(concentration > 0 && double.IsFinite(concentration)))
        {
            throw new ArgumentOutOfRangeException(nameof(concentration), concentration, "The concentration is above 0.");
        }
    }
}
