using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>A season's figures as cells, each with the definition it stands for.</summary>
internal static class SeasonColumns
{
    /// <summary>Every figure of a season, in the order of the definitions.</summary>
    public static IEnumerable<(FigureDefinition Definition, Cell Value)> Of(SeasonFigures figures, UnitSystem units)
    {
        Availability availability = figures.Availability;
        yield return (SeasonDefinitions.DaysInService, Cell.OneDecimal(figures.DaysInService));
        yield return (SeasonDefinitions.RequiredHours, Cell.OneDecimal(figures.RequiredHours));
        yield return (SeasonDefinitions.ReportingCoverage, Cell.Share(figures.ReportingCoverage));
        yield return (SeasonDefinitions.Uses, Cell.Count(figures.Uses));
        yield return (SeasonDefinitions.UsesOnUncertainDay, Cell.Count(figures.UsesOnUncertainDay));
        yield return (SeasonDefinitions.Restarts, Cell.Count(figures.Restarts));
        yield return (SeasonDefinitions.PumpOuts, Cell.Count(figures.PumpOuts));
        yield return (SeasonDefinitions.PumpedOut, Volume(figures.LitresPumpedOut, units));
        yield return (SeasonDefinitions.InTank, Volume(figures.LitresInTank, units));
        yield return (SeasonDefinitions.TicketsRaised, Cell.Count(figures.TicketsRaised));
        yield return (SeasonDefinitions.TicketsClosed, Cell.Count(figures.TicketsClosed));
        yield return (SeasonDefinitions.TicketsOpen, Cell.Count(figures.TicketsOpen));
        yield return (SeasonDefinitions.MedianTimeToClose, Hours(figures.MedianTimeToClose));
        yield return (SeasonDefinitions.AvailabilityShare, Cell.Share(availability.Share));
        yield return (SeasonDefinitions.DownHours, Hours(availability.DownTime));
        yield return (SeasonDefinitions.Failures, Cell.Count(availability.Failures));
        yield return (SeasonDefinitions.MeanTimeBetweenFailures, Hours(availability.MeanTimeBetweenFailures));
        yield return (SeasonDefinitions.MeanTimeToRestoration, Hours(availability.MeanTimeToRestoration));
        yield return (SeasonDefinitions.MeanActiveRepair, Hours(availability.MeanActiveRepair));
        yield return (SeasonDefinitions.MeanDownTime, Hours(availability.MeanDownTime));
    }

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
