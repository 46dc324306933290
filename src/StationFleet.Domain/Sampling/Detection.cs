namespace StationFleet.Domain.Sampling;

/// <summary>How likely a sample is to hold at least one organism.</summary>
/// <remarks>
/// Models: R. H. Green and R. C. Young, Ecol. Appl. 3, 351–356, 1993; finite areas after M. Delgado, R. Soc. Open Sci. 9, 220046, 2022
/// (abstract read, formulas from memory). A detectability d below 1 stands for organisms that are in the sample and not seen.
/// </remarks>
public static class Detection
{
    /// <summary>The water to look at for a wanted probability [L]: −ln(1 − p)/(c d).</summary>
    /// <param name="perLitre">Organisms in a litre that must be found; positive.</param>
    /// <param name="probability">The wanted probability, between 0 and 1.</param>
    /// <param name="detectability">The chance to see one that is there; above 0, at most 1.</param>
    public static double LitresFor(double perLitre, double probability, double detectability = 1)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(perLitre);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(detectability);
        return -LogMissed(probability) / (perLitre * detectability);
    }

    private static double LogMissed(double probability) => probability is > 0 and < 1
        ? Math.Log(1 - probability)
        : throw new ArgumentOutOfRangeException(nameof(probability), probability, "A probability lies between 0 and 1.");
}
