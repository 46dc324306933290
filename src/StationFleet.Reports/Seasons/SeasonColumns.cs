using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>A season's figures as columns and cells.</summary>
internal static class SeasonColumns
{
    /// <summary>Every figure of a season, in the order of the definitions.</summary>
    public static IEnumerable<Cell> Of(SeasonFigures figures, UnitSystem units) => figures.Listed.Select(figure => Of(figure.Definition, figure.Value, units));

    /// <summary>One figure's cell.</summary>
    public static Cell Of(FigureDefinition definition, double? value, UnitSystem units) => definition.Unit switch
    {
        FigureUnit.Count => Cell.Count(value),
        FigureUnit.Share => Cell.Share(value),
        FigureUnit.Volume => Volume(value, units),
        FigureUnit.Money or FigureUnit.Ratio => Cell.TwoDecimals(value),
        _ => Cell.OneDecimal(value),
    };

    /// <summary>A figure as a column of its own.</summary>
    public static ReportColumn Column(FigureDefinition figure, UnitSystem units) => new(
        figure.Key, figure.Unit == FigureUnit.Share ? figure.Name : Titled(figure.Name, figure.UnitName(units)),
        figure.Unit == FigureUnit.Count ? ColumnKind.Count : ColumnKind.Number,
        MachineUnit(figure), figure.Definition);

    /// <summary>The unit of a figure's value as it is stored: a share is a number from 0 to 1.</summary>
    public static string MachineUnit(FigureDefinition figure) =>
        figure.Unit == FigureUnit.Share ? "1" : figure.UnitName(UnitSystem.Metric);

    public static ReportColumn Words(string key, string title, string definition) => new(key, title, ColumnKind.Text, "", definition);

    public static string Titled(string name, string unit) => unit.Length > 0 ? $"{name} [{unit}]" : name;

    public static Cell Volume(double? litres, UnitSystem units) =>
        Cell.OneDecimal(litres is { } known ? Units.VolumeFor(known, units) : null);

    public static Cell Hours(TimeSpan? length) => Cell.OneDecimal(length?.TotalHours);
}
