namespace StationFleet.Domain.Sampling;

/// <summary>How much tank water a count stands for.</summary>
public static class ExaminedWater
{
    private const double MlPerLitre = 1000;

    /// <summary>Litres of tank water that were looked through.</summary>
    /// <param name="grabLitres">The grab [L], over 0.</param>
    /// <param name="examinedMl">What was looked through, of all first-count aliquots together [mL], 0 to the concentrate.</param>
    /// <param name="concentrateMl">The volume to which the grab was concentrated [mL], over 0; null when it was not.</param>
    /// <exception cref="ArgumentOutOfRangeException">The grab or the concentrate is not over 0, or the examined part is negative.</exception>
    /// <remarks>w = v · a / b; the same form in the code of a national lakes survey for zooplankton density (counts × concentrate / counted / towed).</remarks>
    public static double Litres(double grabLitres, double examinedMl, double? concentrateMl)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(grabLitres);
        ArgumentOutOfRangeException.ThrowIfNegative(examinedMl);
        double wholeMl = concentrateMl ?? (grabLitres * MlPerLitre);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(wholeMl, nameof(concentrateMl));
        return grabLitres * examinedMl / wholeMl;
    }
}
