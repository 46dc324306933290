using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Sampling;

/// <summary>What pages say of the months that may have been highest.</summary>
public static class MonthWords
{
    /// <summary>The ranking in one sentence, for the biologist.</summary>
    /// <param name="ranking">The ranking.</param>
    public static string Sentence(MonthRanking ranking)
    {
        ArgumentNullException.ThrowIfNull(ranking);
        string what = EstimateWords.Plural(ranking.Organism);
        if (ranking.Months.All(month => month.SampledPeriods == 0))
        {
            return $"No month was sampled for {what}.";
        }

        if (ranking.Highest is not { } highest)
        {
            return $"No {what} were found in any month that was sampled.";
        }

        string name = SeasonTotalWords.Months([highest]);
        if (!ranking.IsCompared)
        {
            return $"{name} has the highest figure, but there are too few samples to rank months.";
        }

        return ranking.CanBeHighest is [var only]
            ? $"{SeasonTotalWords.Months([only])} had most {what} {Of(ranking.Measure)}."
            : $"{name} has the highest figure; {SeasonTotalWords.List(ranking.CanBeHighest, "or")} may have had most {what} {Of(ranking.Measure)}.";
    }

    /// <summary>A sentence that the public may be told; null when the samples don't carry one.</summary>
    /// <param name="ranking">The ranking.</param>
    public static string? ForThePublic(MonthRanking ranking)
    {
        ArgumentNullException.ThrowIfNull(ranking);
        return ranking.CarriesASentence
            ? $"Most {EstimateWords.Plural(ranking.Organism)} {Of(ranking.Measure)} were there in {SeasonTotalWords.List(ranking.CanBeHighest, "or")}."
            : null;
    }

    /// <summary>What more sampling would allow the public to be told; null when it can be told already.</summary>
    /// <param name="ranking">The ranking.</param>
    public static string? ToTellMore(MonthRanking ranking)
    {
        ArgumentNullException.ThrowIfNull(ranking);
        if (ranking.CarriesASentence)
        {
            return null;
        }

        int[] thin = [.. ranking.Months.Where(month => month.SampledPeriods < MonthRanking.FewestPeriods).Select(month => month.Month)];
        if (thin.Length > 0)
        {
            return $"To rank them, sample at least {NumberWords.Count(MonthRanking.FewestPeriods)} tank periods in {SeasonTotalWords.Months(thin)}.";
        }

        if (ranking.Freedom < MonthRanking.FewestFreedom)
        {
            int more = MonthRanking.FewestFreedom - ranking.Freedom;
            return $"To rank them, sample {NumberWords.Count(more)} more tank {(more == 1 ? "period" : "periods")} in all.";
        }

        return ranking switch
        {
            { Highest: null } => "Nothing was found, so no month stands out; more litres in each sample would tell lower concentrations.",
            { Advice: { } advice } =>
                $"To tell {SeasonTotalWords.Months([ranking.Highest!.Value])} from {SeasonTotalWords.Months([advice.Month])} in four seasons of five, "
                + $"if it is {NumberWords.Significant(advice.Ratio, 2)} times as high, sample about {NumberWords.Figures(advice.PeriodsNeeded)} tank periods in each.",
            _ => "The highest months are nearly alike; no sampling of a reasonable size would tell them apart.",
        };
    }

    private static string Of(MonthMeasure measure) => measure == MonthMeasure.Concentration ? "in a litre of collected water" : "in all collected water";
}
