namespace StationFleet.Domain.Sampling;

/// <summary>How likely a sample is to hold at least one organism.</summary>
/// <remarks>
/// Models: R. H. Green and R. C. Young, Ecol. Appl. 3, 351–356, 1993; finite areas after M. Delgado, R. Soc. Open Sci. 9, 220046, 2022
/// (abstract read, formulas from memory). A detectability d below 1 stands for organisms that are in the sample and not seen.
/// </remarks>
public static class Detection
{
    /// <summary>The probability of a find in well-mixed water: 1 − exp(−c d V).</summary>
    /// <param name="perLitre">Organisms in a litre; 0 or more.</param>
    /// <param name="litres">Tank water looked at [L].</param>
    /// <param name="detectability">The chance to see one that is there; above 0, at most 1.</param>
    public static double Probability(double perLitre, double litres, double detectability = 1) => 1 - Math.Exp(-perLitre * detectability * litres);

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

    /// <summary>The probability of a find when a share of the tank is looked at: 1 − (1 − f)ᴺ.</summary>
    /// <param name="organisms">Organisms in the whole tank.</param>
    /// <param name="shareExamined">The share looked at, 0 to 1.</param>
    public static double ProbabilityInTank(int organisms, double shareExamined) => 1 - Math.Pow(1 - shareExamined, organisms);

    /// <summary>How many grabs a wanted probability takes in patchy water: −ln(1 − p)/(k ln(1 + m/k)).</summary>
    /// <param name="meanPerGrab">m: organisms that a grab holds on average; positive.</param>
    /// <param name="probability">The wanted probability, between 0 and 1.</param>
    /// <param name="size">k of the patchiness between grabs; infinite for well-mixed water.</param>
    /// <returns>Not rounded up.</returns>
    public static double GrabsFor(double meanPerGrab, double probability, double size)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(meanPerGrab);
        double each = double.IsPositiveInfinity(size) ? meanPerGrab : size * Math.Log(1 + (meanPerGrab / size));
        return -LogMissed(probability) / each;
    }

    /// <summary>The greatest share that so many samples without a find still allow: 1 − (1 − p)^(1/n).</summary>
    /// <param name="samples">n ≥ 1, each with it or without it.</param>
    /// <param name="probability">One-sided confidence, such as 0.95.</param>
    public static double GreatestShareMissed(int samples, double probability)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, 1);
        return 1 - Math.Exp(LogMissed(probability) / samples);
    }

    private static double LogMissed(double probability) => probability is > 0 and < 1
        ? Math.Log(1 - probability)
        : throw new ArgumentOutOfRangeException(nameof(probability), probability, "A probability lies between 0 and 1.");
}
