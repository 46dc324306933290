using System.Globalization;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Sampling;

/// <summary>What pages and exports say of a season's figure.</summary>
public static class SeasonTotalWords
{
    /// <summary>The figure in one sentence, or what there is instead.</summary>
    /// <param name="total">The figure.</param>
    /// <param name="units">The reader's units.</param>
    public static string Sentence(SeasonTotal total, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(total);
        string what = EstimateWords.Plural(total.Organism);
        string missing = total.MonthsMissing.Count > 0 ? $"; not estimated for {Months(total.MonthsMissing)}" : "";
        return total switch
        {
            { Kind: SeasonTotalKind.NothingSampled } => $"There is no estimate of {what}: no collected water was sampled.",
            { Kind: SeasonTotalKind.MeasuredPartOnly, MeasuredPart.Value: 0 } =>
                $"No {what} were found in the sampled water ({Sampled(total)}); fewer than {EstimateWords.Whole(total.MeasuredPart.High)} were in it; "
                + "too little was sampled to estimate the rest.",
            { Kind: SeasonTotalKind.MeasuredPartOnly } =>
                $"{NumberWords.Capital(EstimateWords.Figure(total.MeasuredPart))} {what} were in the sampled water alone ({Sampled(total)}); "
                + "too little was sampled to estimate the rest.",
            { Estimate: { Value: 0 } none } => $"No {what} were found ({Sampled(total)}); fewer than {EstimateWords.Whole(none.High)} were in the collected water{missing}.",
            { Estimate: { } estimate } => $"An estimated {EstimateWords.Figure(estimate)["about ".Length..]} {what} were in the collected water ({Sampled(total)}){missing}.",
            _ => throw new System.Diagnostics.UnreachableException(),
        } + (total.Periods == 0 ? "" : $" {EstimateWords.Litres(total.Litres, units)} were collected in all.");
    }

    /// <summary>How much was sampled: 5 of 10 collections, 52 % of the water.</summary>
    /// <param name="total">The figure.</param>
    public static string Sampled(SeasonTotal total)
    {
        ArgumentNullException.ThrowIfNull(total);
        return $"{total.SampledPeriods} of {total.Periods} collections, {NumberWords.Percent(total.Litres > 0 ? total.SampledLitres / total.Litres : 0)} of the water";
    }

    /// <summary>What a label says.</summary>
    /// <param name="label">The label.</param>
    /// <param name="total">The figure it belongs to.</param>
    public static string Label(SeasonLabel label, SeasonTotal total) => label switch
    {
        SeasonLabel.MonthsMissing => $"Not estimated for {Months(total.MonthsMissing)}: no sample.",
        SeasonLabel.AssumesAlike => "Assumes that unsampled collections resemble sampled ones of their months.",
        SeasonLabel.AboutNinetyPercent => "Approximately a 90 % interval: collections differ greatly.",
        SeasonLabel.NoneFound => "None found: upper limit only.",
        _ => throw new ArgumentOutOfRangeException(nameof(label), label, "Not a label."),
    };

    /// <summary>Months in words: May, June and July.</summary>
    /// <param name="months">1 to 12.</param>
    public static string Months(IReadOnlyList<int> months) => List(months, "and");

    internal static string List(IReadOnlyList<int> months, string last)
    {
        string[] names = [.. months.Select(CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName)];
        return names.Length < 2 ? string.Concat(names) : $"{string.Join(", ", names[..^1])} {last} {names[^1]}";
    }
}
