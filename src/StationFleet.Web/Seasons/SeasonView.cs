using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;

namespace StationFleet.Web.Seasons;

/// <summary>What the page Season shows, in words: small enough to travel with the prerendered page.</summary>
/// <param name="Year">The year shown.</param>
/// <param name="Station">The station shown; null for all.</param>
/// <param name="Years">The years to choose from.</param>
/// <param name="Codes">The stations to choose from.</param>
/// <param name="Title">The season's name and days.</param>
/// <param name="Headline">The main figures in a sentence.</param>
/// <param name="Backing">What stands behind them.</param>
/// <param name="Themes">The figures, by theme.</param>
/// <param name="Months">Uses by tool and month.</param>
/// <param name="Tickets">The tickets.</param>
/// <param name="PumpOuts">The pump-outs.</param>
/// <param name="Chart">Options of the picture of uses by week, as JSON; null without uses.</param>
public sealed record SeasonView(
    int Year,
    string? Station,
    IReadOnlyList<int> Years,
    IReadOnlyList<string> Codes,
    string Title,
    string Headline,
    string Backing,
    IReadOnlyList<SeasonView.Theme> Themes,
    SeasonView.Grid Months,
    SeasonView.Grid Tickets,
    SeasonView.Grid PumpOuts,
    string? Chart)
{
    /// <summary>Options of the strips of availability, as JSON; null when the season has not begun.</summary>
    public string? Strip { get; init; }

    /// <summary>How high the strips are [px].</summary>
    public int StripHeight => 70 + (26 * Math.Max(1, Themes[0].Figures.Rows.Count));

    /// <summary>Options of the picture of one station's tank, as JSON; null for several stations or without a tank.</summary>
    public string? TankChart { get; init; }

    /// <summary>Figures that belong together: a row for each station.</summary>
    public sealed record Theme(string Name, Grid Figures);

    /// <summary>A table in words.</summary>
    /// <param name="Heads">The columns' heads; the first ones hold words.</param>
    /// <param name="Words">How many columns hold words; the others hold numbers.</param>
    /// <param name="Rows">The rows.</param>
    /// <param name="Total">The last row, which sums up; null without.</param>
    public sealed record Grid(
        IReadOnlyList<string> Heads, int Words, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string>? Total = null);

    private static readonly (string Name, FigureDefinition[] Figures)[] ThemesShown =
    [
        ("In service", [
            SeasonDefinitions.DaysInService, SeasonDefinitions.ReportingCoverage, SeasonDefinitions.AvailabilityShare,
            SeasonDefinitions.DownHours, SeasonDefinitions.Failures, SeasonDefinitions.MeanTimeBetweenFailures,
            SeasonDefinitions.MeanTimeToRestoration]),
        ("Water kept", [SeasonDefinitions.PumpOuts, SeasonDefinitions.PumpedOut, SeasonDefinitions.PumpedOutUncertainty, SeasonDefinitions.InTank]),
        ("Tickets", [
            SeasonDefinitions.TicketsRaised, SeasonDefinitions.TicketsClosed, SeasonDefinitions.TicketsOpen,
            SeasonDefinitions.MedianTimeToClose, SeasonDefinitions.MeanActiveRepair]),
    ];

    internal static SeasonView Of(SummariseSeason.Outcome.Summarised outcome, string? station, UnitSystem units)
    {
        SeasonSummary summary = outcome.Summary;
        return new SeasonView(
            summary.Season.Year, string.IsNullOrEmpty(station) ? null : station, outcome.Years, outcome.Codes,
            SeasonWords.Title(summary.Season) + (summary.IsRunning ? ", so far" : ""),
            SeasonWords.Headline(summary, units),
            SeasonWords.Backing(summary),
            [.. ThemesShown.Select(theme => new Theme(theme.Name, ThemeGrid(summary, theme.Figures, units)))],
            MonthGrid(summary),
            SeasonLists.Tickets(summary),
            SeasonLists.PumpOuts(summary, units),
            SeasonCharts.UsesByWeek(summary.Weeks))
        {
            Strip = SeasonCharts.Availability(summary.Stations),
            TankChart = summary.Stations is [{ } only] ? SeasonCharts.Tank(only, units) : null,
        };
    }

    private static Grid ThemeGrid(SeasonSummary summary, FigureDefinition[] figures, UnitSystem units)
    {
        return new Grid(
            ["Station", .. figures.Select(figure => SeasonLists.Head(figure, units))],
            1,
            [.. summary.Stations.Select(station => Row(station.Code, station.Figures))],
            summary.Stations.Count > 1 ? Row("All stations", summary.Fleet) : null);

        IReadOnlyList<string> Row(string name, SeasonFigures values) =>
            [name, .. figures.Select(figure => SeasonWords.Value(values.Listed.First(value => value.Definition == figure), units))];
    }

    private static Grid MonthGrid(SeasonSummary summary)
    {
        DateOnly[] months = [.. summary.Stations.SelectMany(station => station.Months).Select(month => month.Month).Distinct().Order()];
        return new Grid(
            ["Station", "Tool", .. months.Select(month => month.ToString("MMMM", CultureInfo.InvariantCulture)), "Season", "On an uncertain day", "Restarts"],
            2,
            [
                .. from station in summary.Stations
                   from tool in station.Months.GroupBy(month => (month.Tool, month.Name))
                   select Row(station.Code, tool.Key.Name, [.. tool]),
            ],
            summary.Stations.Any(station => station.Months.Count > 0)
                ? Row(summary.Stations.Count > 1 ? "All stations" : summary.Stations[0].Code, "All tools", [.. summary.Stations.SelectMany(s => s.Months)])
                : null);

        IReadOnlyList<string> Row(string station, string tool, IReadOnlyCollection<ToolMonth> uses) =>
        [
            station,
            tool,
            .. months.Select(month => uses.Any(use => use.Month == month) ? SeasonLists.Count(uses.Where(use => use.Month == month).Sum(use => use.Uses)) : "–"),
            SeasonLists.Count(uses.Sum(use => use.Uses)),
            SeasonLists.Count(uses.Sum(use => use.OnUncertainDay)),
            SeasonLists.Count(uses.Sum(use => use.Restarts)),
        ];
    }
}
