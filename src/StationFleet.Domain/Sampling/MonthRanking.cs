using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>What months are ranked by.</summary>
public enum MonthMeasure
{
    /// <summary>Organisms in a litre of collected water.</summary>
    Concentration,

    /// <summary>Organisms in all the water that was collected in the month.</summary>
    Load,
}

/// <summary>What one month's samples say.</summary>
/// <param name="Month">1 to 12.</param>
/// <param name="SampledPeriods">Tank periods that were sampled.</param>
/// <param name="Count">Organisms counted in them.</param>
/// <param name="ExaminedLitres">Tank water looked at [L].</param>
/// <param name="CollectedLitres">Water of all the month's periods, sampled or not [L].</param>
/// <param name="Value">Organisms in a litre, or in the month's water, with limits at 95 %; null without a sample.</param>
/// <param name="RatioToHighest">The highest month's value ÷ this one's, with limits at 95 %; null for the highest itself and when not compared.</param>
/// <param name="Chance">The chance of so great a difference when there is none, allowing for all comparisons (Holm); null when not compared.</param>
/// <param name="CanBeHighest">Whether the month cannot be ruled out as the highest.</param>
public sealed record MonthResult(
    int Month,
    int SampledPeriods,
    int Count,
    double ExaminedLitres,
    double CollectedLitres,
    Bounded? Value,
    Bounded? RatioToHighest,
    double? Chance,
    bool CanBeHighest);

/// <summary>What would let the months be told apart.</summary>
/// <param name="Month">The month that is hardest to tell from the highest.</param>
/// <param name="Ratio">How many times higher the highest seems.</param>
/// <param name="CountNeeded">Organisms to be counted in that month for 80 % of seasons to tell them apart.</param>
/// <param name="PeriodsNeeded">Tank periods to be sampled in each month for that, at the present scatter.</param>
public sealed record MoreSampling(int Month, double Ratio, double CountNeeded, int PeriodsNeeded);

/// <summary>Which months had most organisms, as far as the samples can tell.</summary>
/// <param name="Organism">The organism.</param>
/// <param name="Measure">What months are ranked by.</param>
/// <param name="Months">All months with collected water or samples, in the order of the calendar.</param>
/// <param name="Highest">The month with the highest value; null when nothing was found.</param>
/// <param name="IsCompared">Whether there are samples enough to rank at all.</param>
/// <param name="Scatter">φ: how many times more the periods of a month scatter than chance; at least 1.</param>
/// <param name="ChiSquare">Pearson's χ² of the periods about their months.</param>
/// <param name="Freedom">Its degrees of freedom: periods less months.</param>
/// <param name="Advice">What more sampling would tell; null when the months are told apart, or too few were sampled.</param>
public sealed record MonthRanking(
    Organism Organism,
    MonthMeasure Measure,
    IReadOnlyList<MonthResult> Months,
    int? Highest,
    bool IsCompared,
    double Scatter,
    double ChiSquare,
    int Freedom,
    MoreSampling? Advice)
{
    /// <summary>How many tank periods of a month must be sampled for the month to be compared.</summary>
    public const int FewestPeriods = 3;

    /// <summary>How many degrees of freedom must be there for months to be compared.</summary>
    public const int FewestFreedom = 10;

    /// <summary>The months that cannot be ruled out as the highest, those without samples enough included.</summary>
    public IReadOnlyList<int> CanBeHighest => [.. Months.Where(month => month.CanBeHighest).Select(month => month.Month)];

    /// <summary>Whether the samples carry a sentence for the public: at most half of the months are left.</summary>
    public bool CarriesASentence => IsCompared && Highest is not null && CanBeHighest.Count * 2 <= Months.Count;

    /// <summary>Ranks the months of one season.</summary>
    /// <param name="organism">The organism.</param>
    /// <param name="measure">What to rank by.</param>
    /// <param name="periods">All periods of one season, sampled or not.</param>
    /// <remarks>Samples with a contaminated blank are left out, and those of other meshes than the one that most samples have.</remarks>
    public static MonthRanking Of(Organism organism, MonthMeasure measure, IReadOnlyCollection<TankPeriod> periods)
    {
        double? mesh = periods.Where(period => UsableCounts(period, organism) is not null)
            .GroupBy(period => period.MeshMicrometres).OrderByDescending(same => same.Count()).FirstOrDefault()?.Key;
        return MonthComparison.Of(organism, measure, [.. periods.Select(period => new MonthPeriod(
            period.Month, period.Water, period.MeshMicrometres == mesh ? UsableCounts(period, organism) : null))]);
    }

    private static CountedGrabs? UsableCounts(TankPeriod period, Organism organism) =>
        period.IsContaminated(organism) ? null : CountedGrabs.Of(period, organism);
}
