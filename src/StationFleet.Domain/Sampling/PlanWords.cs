using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Sampling;

/// <summary>What pages say of plans.</summary>
public static class PlanWords
{
    /// <summary>What a wanted probability takes: for a 95 % probability of detection at one organism per 10 L, examine 30 L.</summary>
    /// <param name="perLitre">Organisms in a litre; positive.</param>
    /// <param name="probability">Between 0 and 1.</param>
    /// <param name="detectability">The chance to see one that is there.</param>
    public static string ToDetect(double perLitre, double probability, double detectability = 1)
    {
        string concentration = perLitre < 1
            ? $"one organism per {NumberWords.Significant(1 / perLitre, 3)} L"
            : $"{NumberWords.Significant(perLitre, 3)} organisms in a litre";
        return $"For a {NumberWords.Percent(probability)} probability of detection at {concentration}, "
            + $"examine {NumberWords.Significant(Detection.LitresFor(perLitre, probability, detectability), 2)} L of well-mixed tank water.";
    }

    /// <summary>How good a number of grabs would be.</summary>
    /// <param name="plan">The plan.</param>
    public static string Of(GrabPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        string grabs = $"{NumberWords.Capital(NumberWords.Count(plan.Grabs))} {(plan.Grabs == 1 ? "grab" : "grabs")} ({NumberWords.Significant(plan.Litres, 3)} L looked at)";
        string width = double.IsPositiveInfinity(plan.Factor)
            ? "give no lower limit above 0"
            : $"give an interval from about 1/{NumberWords.Significant(plan.Factor, 2)} to {NumberWords.Significant(plan.Factor, 2)} times the estimate";
        return $"{grabs} find it with {NumberWords.Percent(plan.Detection)} probability and {width}.";
    }

    /// <summary>What is to be taken: «three grabs of 10 L».</summary>
    /// <param name="grabs">How many grabs; null: not said.</param>
    /// <param name="litresPerGrab">How much each of them holds [L]; null: not said.</param>
    public static string What(int? grabs, double? litresPerGrab) => (grabs, litresPerGrab) switch
    {
        (null, null) => "one grab or more",
        (null, { } each) => $"grabs of {NumberWords.Figures(each)} L",
        (1, null) => "one grab",
        (1, { } each) => $"one grab of {NumberWords.Figures(each)} L",
        ({ } count, null) => $"{NumberWords.Count(count)} grabs",
        ({ } count, { } each) => $"{NumberWords.Count(count)} grabs of {NumberWords.Figures(each)} L",
    };

    /// <summary>Why a sample is in the calendar.</summary>
    /// <param name="reason">The reason.</param>
    public static string Why(SampleReason reason) => reason switch
    {
        SampleReason.FirstOfMonth => "The month's first: without it nothing can be said of the month.",
        SampleReason.SecondOfMonth => "The month's second: now its unsampled tanks can be estimated.",
        SampleReason.ThirdOfMonth => "The month's third: now it can be compared with other months.",
        SampleReason.PaysMost => "Here one more sample narrows the season's figure most.",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Not a reason."),
    };
}
