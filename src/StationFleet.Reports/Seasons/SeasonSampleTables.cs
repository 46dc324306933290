using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Statistics;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>What samples say of a season, as tables.</summary>
internal static class SeasonSampleTables
{
    private static readonly ReportColumn Year = SeasonColumns.Words("year", "Year", "The calendar year; days that touch two years have a figure for each.");
    private static readonly ReportColumn Water = SeasonColumns.Words("water", "Water", "The water beside which the stations stood.");
    private static readonly ReportColumn Organism = SeasonColumns.Words("organism", "Organism", "The taxon, and its stage where stages are told apart.");

    /// <summary>One row per organism, water and year.</summary>
    public static ReportTable Removed(SeasonReport report, UnitSystem units)
    {
        string volume = Units.VolumeUnit(units);
        return new(
            "organisms-removed", "Organisms removed",
            [
                Year, Water, Organism,
                SeasonColumns.Column(SeasonDefinitions.OrganismsRemoved, units),
                new("low", "Lower limit", ColumnKind.Count, "", "The lower limit at 95 %."),
                new("high", "Upper limit", ColumnKind.Count, "", "The upper limit at 95 %."),
                SeasonColumns.Words("made", "How it was made", "expanded: unsampled periods are taken to resemble sampled ones of their months; wholly sampled; sampled part only; or nothing sampled."),
                new("sampled_part", "In the sampled water alone", ColumnKind.Count, "", "The sum of the sampled periods."),
                new("sampled_part_low", "Lower limit of that", ColumnKind.Count, "", "Its lower limit at 95 %."),
                new("sampled_part_high", "Upper limit of that", ColumnKind.Count, "", "Its upper limit at 95 %."),
                new("periods_sampled", "Tank periods sampled", ColumnKind.Count, "", "Tank periods with an estimate."),
                new("periods", "Tank periods", ColumnKind.Count, "", "Tank periods of known volume, sampled or not."),
                new(units == UnitSystem.Metric ? "litres" : "volume", $"Water collected [{volume}]", ColumnKind.Number, volume, "Water of these periods."),
                SeasonColumns.Column(SeasonDefinitions.ShareSampled, units),
                SeasonColumns.Words("months", "Months it speaks for", "Months with a sample, by number."),
                SeasonColumns.Words("months_missing", "Months without a sample", "Months with collected water that no sample speaks for, by number: not in the figure."),
                SeasonColumns.Words("remark", "What to keep in mind", "What must be said beside the figure."),
            ],
            [
                .. report.Removals.Select(removal => (IReadOnlyList<Cell>)
                [
                    Cell.Of(YearOf(removal)), Cell.Of(removal.Water), Cell.Of(removal.Name),
                    .. Figure(removal.Total.Estimate),
                    Cell.Of(Made(removal.Total.Kind)),
                    .. Figure(removal.Total.SampledPeriods > 0 ? removal.Total.MeasuredPart : null),
                    Cell.Count(removal.Total.SampledPeriods), Cell.Count(removal.Total.Periods), SeasonColumns.Volume(removal.Total.Litres, units),
                    Cell.Share(removal.ShareSampled), Cell.Of(Numbers(removal.Total.MonthsCovered)), Cell.Of(Numbers(removal.Total.MonthsMissing)),
                    Cell.Of(string.Join(" ", removal.Total.Labels.Select(label => SeasonTotalWords.Label(label, removal.Total)))),
                ]),
            ])
        {
            Note = "Alive or dead is not determined; no count of introductions prevented. Months without a sample are named, never expanded.",
        };
    }

    /// <summary>One row per organism, water and month with collected water.</summary>
    public static ReportTable ByMonth(SeasonReport report, UnitSystem units) => new(
        "organisms-by-month", "Organisms by month",
        [
            Year, Water, Organism,
            new("month", "Month", ColumnKind.Date, "", "The month's first day; a period belongs to the month of its middle day."),
            new("per_litre", "In a litre of tank water", ColumnKind.Number, "1/L", SeasonDefinitions.Concentration.Definition),
            new("low", "Lower limit", ColumnKind.Number, "1/L", "The lower limit at 95 %."),
            new("high", "Upper limit", ColumnKind.Number, "1/L", "The upper limit at 95 %."),
            new("periods_sampled", "Tank periods sampled", ColumnKind.Count, "", "Tank periods of the month that were sampled."),
            new("counted", "Counted", ColumnKind.Count, "", "Organisms counted in their samples."),
            new("litres_examined", "Looked through [L]", ColumnKind.Number, "L", "Tank water looked through."),
            new(units == UnitSystem.Metric ? "litres" : "volume", $"Water collected [{Units.VolumeUnit(units)}]", ColumnKind.Number, Units.VolumeUnit(units), "Water of the month's periods, sampled or not."),
            SeasonColumns.Words("remark", "Remark", "Says that a month has no sample, or that it may have been highest."),
        ],
        [
            .. report.Removals.SelectMany(removal => removal.Months.Months, (removal, month) => (IReadOnlyList<Cell>)
            [
                Cell.Of(YearOf(removal)), Cell.Of(removal.Water), Cell.Of(removal.Name), new Cell.Day(new DateOnly(removal.Year, month.Month, 1)),
                Cell.ThreeDecimals(month.Value?.Value), Cell.ThreeDecimals(month.Value?.Low), Cell.ThreeDecimals(month.Value?.High),
                Cell.Count(month.SampledPeriods), Cell.Count(month.Count), Cell.ThreeDecimals(month.ExaminedLitres), SeasonColumns.Volume(month.CollectedLitres, units),
                Cell.Of(month.Value is null ? "no sample" : removal.Months.IsCompared && month.CanBeHighest ? "may be the highest" : null),
            ]),
        ])
    {
        Note = "A month without a sample has no figure: it is not zero.",
    };

    /// <summary>How a figure was made, in words.</summary>
    public static string Made(SeasonTotalKind kind) => kind switch
    {
        SeasonTotalKind.WhollySampled => "wholly sampled",
        SeasonTotalKind.Expanded => "expanded",
        SeasonTotalKind.MeasuredPartOnly => "sampled part only",
        _ => "nothing sampled",
    };

    private static IEnumerable<Cell> Figure(Bounded? figure) => [Cell.Count(figure?.Value), Cell.Count(figure?.Low), Cell.Count(figure?.High)];

    private static string Numbers(IEnumerable<int> months) => string.Join(' ', months);

    private static string YearOf(SeasonRemoval removal) => removal.Year.ToString(CultureInfo.InvariantCulture);
}
