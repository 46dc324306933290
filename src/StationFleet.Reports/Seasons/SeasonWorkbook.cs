using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>A season as an XLSX workbook for people, in their units and local time.</summary>
public static class SeasonWorkbook
{
    private static readonly ReportColumn Tool = SeasonColumns.Words("tool", "Tool", "The name the agency gave the tool.");

    /// <param name="report">The season.</param>
    /// <param name="units">The readers' units.</param>
    /// <param name="frame">Whose it is.</param>
    /// <param name="progress">Gets the share that is done, 0 to 1; null when nobody looks.</param>
    /// <returns>The file's bytes, of type <see cref="TableWorkbook.ContentType"/>.</returns>
    public static byte[] Write(SeasonReport report, UnitSystem units, ReportFrame frame, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(report);
        SeasonSummary summary = report.Summary;
        return TableWorkbook.Write(
            frame,
            [
                Summary(summary, units),
                .. report.Before is null ? Array.Empty<ReportTable>() : [SeasonTables.Comparison(report, units, figure => figure.UnitName(units))],
                UsesByMonth(summary), SeasonTables.Tickets(summary), SeasonTables.PumpOuts(summary, units),
                SeasonSampleTables.Removed(report, units), SeasonSampleTables.ByMonth(report, units), SeasonTables.Quality(report),
                SeasonTables.Definitions(figure => figure.UnitName(units)),
            ],
            progress);
    }

    // Figures down, stations across: it prints on one page, and reads like the table of a report.
    private static ReportTable Summary(SeasonSummary summary, UnitSystem units)
    {
        List<Cell[]> each = [.. summary.Stations.Select(station => Cells(station.Figures))];
        List<ReportColumn> columns =
        [
            SeasonColumns.Words("figure", "Figure", "The figure, as the sheet Definitions defines it."),
            SeasonColumns.Words("unit", "Unit", "Its unit; empty for a count."),
            .. summary.Stations.Select(station => new ReportColumn(station.Code, station.Code, ColumnKind.Figure, "", station.Place)),
        ];
        if (summary.Stations.Count != 1)
        {
            each.Add(Cells(summary.Fleet));
            columns.Add(new ReportColumn("all", "All stations", ColumnKind.Figure, "", "All stations together."));
        }

        return new ReportTable("summary", "Summary", columns,
        [
            .. SeasonDefinitions.All.Select((figure, row) => (IReadOnlyList<Cell>)
                [Cell.Of(figure.Name), Cell.Of(figure.UnitName(units)), .. each.Select(cells => cells[row])]),
        ]);

        Cell[] Cells(SeasonFigures figures) => [.. SeasonColumns.Of(figures, units)];
    }

    private static ReportTable UsesByMonth(SeasonSummary summary)
    {
        DateOnly[] months = [.. summary.Stations.SelectMany(station => station.Months).Select(month => month.Month).Distinct().Order()];
        return new ReportTable("uses-by-month", "Uses by month",
            [
                SeasonTables.Station,
                Tool,
                .. months.Select(month => new ReportColumn(
                    month.ToString("yyyy-MM", CultureInfo.InvariantCulture),
                    month.ToString("MMM yyyy", CultureInfo.InvariantCulture),
                    ColumnKind.Count, "", SeasonDefinitions.Uses.Definition)),
                new("season", "Season", ColumnKind.Count, "", SeasonDefinitions.Uses.Definition),
                SeasonColumns.Column(SeasonDefinitions.UsesOnUncertainDay, UnitSystem.Metric),
                SeasonColumns.Column(SeasonDefinitions.Restarts, UnitSystem.Metric),
            ],
            [
                .. from station in summary.Stations
                   from tool in station.Months.GroupBy(month => (month.Tool, month.Name))
                   select (IReadOnlyList<Cell>)
                   [
                       Cell.Of(station.Code),
                       Cell.Of(tool.Key.Name),
                       .. months.Select(month => Cell.Count(tool.FirstOrDefault(uses => uses.Month == month)?.Uses)),
                       Cell.Count(tool.Sum(uses => uses.Uses)),
                       Cell.Count(tool.Sum(uses => uses.OnUncertainDay)),
                       Cell.Count(tool.Sum(uses => uses.Restarts)),
                   ],
            ])
        {
            Note = "Only the season's days are counted. A month without a number has no data.",
        };
    }
}
