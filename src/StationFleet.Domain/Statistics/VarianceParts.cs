namespace StationFleet.Domain.Statistics;

/// <summary>A part of a variance, with the degrees of freedom that it is known by.</summary>
/// <param name="Variance">0 or more.</param>
/// <param name="Freedom">Above 0; infinite when it is known for certain.</param>
public readonly record struct VariancePart(double Variance, double Freedom);

/// <summary>Sums of independent variances.</summary>
public static class VarianceParts
{
    /// <summary>The degrees of freedom of a sum of variances: (Σv)² / Σ(v²/ν).</summary>
    /// <param name="parts">The parts; at least one above 0.</param>
    /// <remarks>Welch and Satterthwaite, as in JCGM 100:2008 (GUM) G.4.1 and Cochran 1977 eq. 5.16 (from memory).</remarks>
    public static double Freedom(IReadOnlyCollection<VariancePart> parts)
    {
        double sum = parts.Sum(part => part.Variance);
        return sum * sum / parts.Sum(part => part.Variance * part.Variance / part.Freedom);
    }
}
