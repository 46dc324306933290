using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>
/// A season as CSV files for machines, one per table, and a JSON description of them. Always in SI and UTC, whatever people read;
/// one thing a row.
/// </summary>
public static class SeasonCsv
{
    /// <summary>The names of the tables, as addresses use them.</summary>
    public static IReadOnlyList<string> TableKeys { get; } =
        ["summary", "fleet", "comparison", "uses-by-month", "tickets", "pump-outs", "organisms-removed", "organisms-by-month", "data-quality", "definitions"];

    /// <summary>One table's file.</summary>
    /// <param name="report">The season.</param>
    /// <param name="key">One of <see cref="TableKeys"/>.</param>
    /// <param name="isInvented">The data are invented, and every row says so.</param>
    /// <returns>The file's bytes, or null when there is no such table.</returns>
    public static byte[]? Write(SeasonReport report, string key, bool isInvented) =>
        Tables(report, isInvented).FirstOrDefault(table => table.Key == key) is { } table ? CsvTable.Write(table) : null;

    /// <summary>The description of all files.</summary>
    /// <param name="report">The season.</param>
    /// <param name="frame">Whose it is.</param>
    /// <param name="address">The address of a table's file, by the table's name.</param>
    public static byte[] Describe(SeasonReport report, ReportFrame frame, Func<string, string> address)
    {
        ArgumentNullException.ThrowIfNull(frame);
        return TableDescription.Write(frame, Tables(report, frame.IsInvented), table => address(table.Key));
    }

    internal static IReadOnlyList<ReportTable> Tables(SeasonReport report, bool isInvented)
    {
        ArgumentNullException.ThrowIfNull(report);
        SeasonSummary summary = report.Summary;
        ReportTable[] tables =
        [
            Summary(summary), Fleet(summary), SeasonTables.Comparison(report, UnitSystem.Metric, SeasonColumns.MachineUnit), UsesByMonth(summary), SeasonTables.Tickets(summary),
            SeasonTables.PumpOuts(summary, UnitSystem.Metric), SeasonSampleTables.Removed(report, UnitSystem.Metric),
            SeasonSampleTables.ByMonth(report, UnitSystem.Metric), SeasonTables.Quality(report), SeasonTables.Definitions(SeasonColumns.MachineUnit),
        ];
        return isInvented ? [.. tables.Select(table => table.Noted())] : tables;
    }

    private static ReportTable Summary(SeasonSummary summary) => new(
        "summary", "Summary",
        [
            SeasonTables.Station,
            SeasonColumns.Words("place", "Place", "Where it stands, or stood last."),
            .. SeasonDefinitions.All.Select(figure => SeasonColumns.Column(figure, UnitSystem.Metric)),
        ],
        [
            .. summary.Stations.Select(station => (IReadOnlyList<Cell>)
            [
                Cell.Of(station.Code),
                Cell.Of(station.Place),
                .. SeasonColumns.Of(station.Figures, UnitSystem.Metric),
            ]),
        ]);

    // A table of its own, so that nobody adds it to the stations it sums up.
    private static ReportTable Fleet(SeasonSummary summary) => new(
        "fleet", "All stations together",
        [
            new("stations", "Stations", ColumnKind.Count, "", "How many stations were counted."),
            .. SeasonDefinitions.All.Select(figure => SeasonColumns.Column(figure, UnitSystem.Metric)),
        ],
        [
            [
                Cell.Count(summary.Stations.Count),
                .. SeasonColumns.Of(summary.Fleet, UnitSystem.Metric),
            ],
        ]);

    private static ReportTable UsesByMonth(SeasonSummary summary) => new(
        "uses-by-month", "Uses by month",
        [
            SeasonTables.Station,
            SeasonColumns.Words("tool", "Tool", "The tool's name in reports."),
            SeasonColumns.Words("tool_name", "Tool's name", "The name the agency gave it."),
            SeasonColumns.Words("tool_kind", "Kind", "What it is for."),
            new("month", "Month", ColumnKind.Date, "", "The month's first day; only the season's days are counted."),
            SeasonColumns.Column(SeasonDefinitions.Uses, UnitSystem.Metric),
            SeasonColumns.Column(SeasonDefinitions.UsesOnUncertainDay, UnitSystem.Metric),
            SeasonColumns.Column(SeasonDefinitions.Restarts, UnitSystem.Metric),
        ],
        [
            .. summary.Stations.SelectMany(station => station.Months.Select(month => (IReadOnlyList<Cell>)
            [
                Cell.Of(station.Code),
                Cell.Of(month.Tool),
                Cell.Of(month.Name),
                Cell.Of(SeasonTables.Spoken(month.Kind)),
                new Cell.Day(month.Month),
                Cell.Count(month.Uses),
                Cell.Count(month.OnUncertainDay),
                Cell.Count(month.Restarts),
            ])),
        ]);
}
