using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Seasons;

/// <summary>Which figures rest on which rows, and the rows that the days' sums give.</summary>
internal static class SeasonFigureRows
{
    public static IReadOnlyList<FigureDefinition> OfDays { get; } = [SeasonDefinitions.DaysInService, SeasonDefinitions.RequiredHours];

    public static IReadOnlyList<FigureDefinition> OfTickets { get; } =
    [
        SeasonDefinitions.TicketsRaised, SeasonDefinitions.TicketsClosed, SeasonDefinitions.TicketsOpen, SeasonDefinitions.MedianTimeToClose,
        SeasonDefinitions.AvailabilityShare, SeasonDefinitions.DownHours, SeasonDefinitions.Failures, SeasonDefinitions.MeanTimeBetweenFailures,
        SeasonDefinitions.MeanTimeToRestoration, SeasonDefinitions.MeanActiveRepair, SeasonDefinitions.MeanDownTime,
    ];

    public static IReadOnlyList<FigureDefinition> OfTank { get; } =
        [SeasonDefinitions.PumpOuts, SeasonDefinitions.PumpedOut, SeasonDefinitions.PumpedOutUncertainty, SeasonDefinitions.TakenIn, SeasonDefinitions.InTank];

    public static IReadOnlyList<FigureDefinition> OfVisits { get; } =
        [SeasonDefinitions.Visits, SeasonDefinitions.VisitHours, SeasonDefinitions.VisitHoursPaid, SeasonDefinitions.VisitHoursMatch, SeasonDefinitions.VisitHoursVolunteer];

    public static SeasonView.Grid Uses(SeasonInput input) => new(
        ["Station", "Day", "Tool", "Uses", "On an uncertain day", "Restarts"], 3,
        [
            .. from station in input.Stations
               from day in station.Uses
               where input.Season.Contains(day.Day) && (day.Total > 0 || day.Uncertain > 0)
               orderby station.Setup.Code, day.Day, day.Tool
               select (IReadOnlyList<string>)
               [
                   station.Setup.Code, Say(day.Day), station.Setup.Tools.LastOrDefault(tool => tool.Slug == day.Tool)?.Name ?? day.Tool,
                   SeasonLists.Count(day.Total), SeasonLists.Count(day.AcrossDays), SeasonLists.Count(day.Uncertain),
               ],
        ]);

    public static SeasonView.Grid Sessions(SeasonInput input) => new(
        ["Station", "Day", "Hours with a use"], 2,
        [
            .. from station in input.Stations
               from day in station.UseHours
               where input.Season.Contains(day.Day)
               orderby station.Setup.Code, day.Day
               select (IReadOnlyList<string>)[station.Setup.Code, Say(day.Day), SeasonLists.Count(day.Hours)],
        ]);

    public static SeasonView.Grid Counts(SeasonInput input) => new(
        ["Station", "From", "Hours", "Boats leaving", "At the station", "Tool uses"], 2,
        [
            .. from station in input.Stations
               from shift in station.Counts
               where input.Season.Contains(LocalCalendar.DateOf(shift.From, station.Setup.Zone))
               orderby station.Setup.Code, shift.From
               select (IReadOnlyList<string>)
               [
                   station.Setup.Code, Say(shift.From, station.Setup.Zone), NumberWords.Brief(shift.Hours), SeasonLists.Count(shift.BoatsLeaving),
                   SeasonLists.Count(shift.BoatsAtStation), shift.ToolUses is { } uses ? SeasonLists.Count(uses) : "not watched",
               ],
        ]);

    public static SeasonView.Grid Reporting(SeasonInput input) => new(
        ["Station", "Day", "Hours with data"], 2,
        [
            .. from station in input.Stations
               from day in station.Reporting
               where input.Season.Contains(day.Day)
               orderby station.Setup.Code, day.Day
               select (IReadOnlyList<string>)[station.Setup.Code, Say(day.Day), SeasonLists.Count(day.HoursWithData)],
        ]);

    public static SeasonView.Grid Tank(SeasonSummary summary, UnitSystem units) => new(
        ["Station", "Last measured", SeasonLists.Head(SeasonDefinitions.InTank, units)], 2,
        [
            .. from station in summary.Stations
               from level in station.Tank
               select (IReadOnlyList<string>)[station.Code, Say(level.At, station.Zone), SeasonLists.Count(Units.VolumeFor(level.Litres, units))],
        ]);

    public static string Say(DateTimeOffset at, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    private static string Say(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
