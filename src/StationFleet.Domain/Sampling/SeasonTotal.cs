using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>How a season's figure came about.</summary>
public enum SeasonTotalKind
{
    /// <summary>No period was sampled.</summary>
    NothingSampled,

    /// <summary>Every period was sampled: the sum of the estimates.</summary>
    WhollySampled,

    /// <summary>Periods without a sample are taken to resemble sampled ones of their months.</summary>
    Expanded,

    /// <summary>Too few were sampled to say anything of the others: the sum of the sampled ones alone.</summary>
    MeasuredPartOnly,
}

/// <summary>What must be said beside a season's figure, besides how much was sampled.</summary>
public enum SeasonLabel
{
    /// <summary>Months with collected water and no sample are not in the figure.</summary>
    MonthsMissing,

    /// <summary>It assumes that periods without a sample resemble sampled ones.</summary>
    AssumesAlike,

    /// <summary>Periods differ so much, or one weighs so much, that the interval covers about 90 %.</summary>
    AboutNinetyPercent,

    /// <summary>Nothing was found in any sample: there is only an upper limit.</summary>
    NoneFound,
}

/// <summary>Months that are expanded together.</summary>
/// <param name="Months">The months, 1 to 12, rising.</param>
/// <param name="Periods">P.</param>
/// <param name="SampledPeriods">m.</param>
/// <param name="Litres">Water of all periods [L].</param>
/// <param name="SampledLitres">Water of the sampled ones [L].</param>
/// <param name="PerLitre">R = ΣN/ΣV over the sampled ones [1/L].</param>
/// <param name="Total">T = R × all water.</param>
/// <param name="BetweenVariance">P*² (1 − f) s²/m: periods differ.</param>
/// <param name="WithinVariance">(P*/m) Σu²: each sampled period is itself uncertain.</param>
/// <param name="UnsampledVolumeVariance">Σ (R V s)²: the others' volumes are uncertain.</param>
/// <param name="ResidualCv">√s² ÷ the mean estimate; 0 when nothing was found.</param>
public sealed record SeasonStratum(
    IReadOnlyList<int> Months,
    int Periods,
    int SampledPeriods,
    double Litres,
    double SampledLitres,
    double PerLitre,
    double Total,
    double BetweenVariance,
    double WithinVariance,
    double UnsampledVolumeVariance,
    double ResidualCv)
{
    /// <summary>The variance of the total.</summary>
    public double Variance => BetweenVariance + WithinVariance + UnsampledVolumeVariance;

    /// <summary>The square of <see cref="ResidualCv"/> less what the uncertainty of the sampled periods explains; below 0 when that is more.</summary>
    internal double ExcessSquareCv => Total > 0
        ? (ResidualCv * ResidualCv) - (WithinVariance * SampledPeriods * Litres / (SampledLitres * Total * Total))
        : 0;
}

/// <summary>How many organisms of one kind were in the water of a season.</summary>
/// <param name="Organism">The organism.</param>
/// <param name="Kind">How it came about.</param>
/// <param name="Estimate">The figure with limits at 95 %; null when <see cref="SeasonTotalKind.NothingSampled"/> or only the measured part is known.</param>
/// <param name="MeasuredPart">The sum of the sampled periods, with limits at 95 %.</param>
/// <param name="SampledPeriods">Periods with an estimate.</param>
/// <param name="Periods">Periods with collected water of a known volume.</param>
/// <param name="SampledLitres">Water of the sampled ones [L].</param>
/// <param name="Litres">Water of all [L].</param>
/// <param name="MonthsCovered">Months that the figure speaks for, in the order of the season.</param>
/// <param name="MonthsMissing">Months with collected water that it doesn't speak for.</param>
/// <param name="Strata">How it was expanded; empty when it was not.</param>
/// <param name="Freedom">Degrees of freedom of the expanded figure's t; null when it was not expanded.</param>
/// <param name="StandardError">Of the expanded figure; null when it was not expanded.</param>
/// <param name="Labels">What must be said beside it.</param>
public sealed record SeasonTotal(
    Organism Organism,
    SeasonTotalKind Kind,
    Bounded? Estimate,
    Bounded MeasuredPart,
    int SampledPeriods,
    int Periods,
    double SampledLitres,
    double Litres,
    IReadOnlyList<int> MonthsCovered,
    IReadOnlyList<int> MonthsMissing,
    IReadOnlyList<SeasonStratum> Strata,
    double? Freedom,
    double? StandardError,
    IReadOnlyList<SeasonLabel> Labels)
{
    /// <summary>The season's figure for one organism.</summary>
    /// <param name="organism">The organism.</param>
    /// <param name="periods">All periods of one season and one water, sampled or not; those without a volume don't count.</param>
    /// <param name="estimates">The estimates of <see cref="SeasonEstimates"/> for these periods; those of other organisms don't count.</param>
    public static SeasonTotal Of(Organism organism, IEnumerable<TankPeriod> periods, IEnumerable<RemovalEstimate> estimates)
    {
        Dictionary<string, RemovalEstimate.Made> made = estimates.OfType<RemovalEstimate.Made>()
            .Where(one => one.Organism == organism).ToDictionary(one => one.Period.Id, StringComparer.Ordinal);
        return SeasonExpansion.Of(organism, [.. periods.Where(period => period.Water is not null)
            .Select(period => new MeteredPeriod(period.Month, period.Water!, made.GetValueOrDefault(period.Id)))]);
    }
}
