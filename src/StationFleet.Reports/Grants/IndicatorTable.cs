using StationFleet.Domain.Grants;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Grants;

/// <summary>An award's indicators as a table, in the columns that funders ask for.</summary>
public static class IndicatorTable
{
    /// <param name="lines">The indicators.</param>
    /// <param name="note">What stands beneath the title: the days counted, and which figures other awards count too.</param>
    public static ReportTable Of(IReadOnlyList<IndicatorLine> lines, string note) => new(
        "indicators", "Indicators",
        [
            Words("label", "Label", "The indicator's label."),
            Words("description", "Description", "What it counts."),
            new("target", "Target", ColumnKind.Number, "", "What the award promised."),
            new("actual", "Actual", ColumnKind.Number, "", "What was reached in the days counted."),
            Words("unit", "Unit", "Its unit; empty for a count."),
            Words("note", "Note", "What has to be said to it."),
        ],
        [
            .. lines.Select(line => (IReadOnlyList<Cell>)
            [
                Cell.Of(line.Label), Cell.Of(line.Description), Cell.OneDecimal(line.Target), Cell.OneDecimal(line.Actual), Cell.Of(line.Unit), Cell.Of(line.Note),
            ]),
        ])
    {
        Note = note,
    };

    private static ReportColumn Words(string key, string title, string definition) => new(key, title, ColumnKind.Text, "", definition);
}
