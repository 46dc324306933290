using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Sampling;

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
    /// <summary>What was asked for, as files' addresses carry it.</summary>
    public string Asked { get; init; } = "";

    /// <summary>The awards to choose from.</summary>
    public IReadOnlyList<string> Awards { get; init; } = [];

    /// <summary>The owners to choose from.</summary>
    public IReadOnlyList<string> Owners { get; init; } = [];

    /// <summary>Says which figures several awards count; empty when none do.</summary>
    public string Shared { get; init; } = "";

    /// <summary>The figures beside those of the year before; null without any.</summary>
    public Grid? Comparison { get; init; }

    /// <summary>What the comparison is.</summary>
    public string ComparisonNote { get; init; } = "";

    /// <summary>What the samples say.</summary>
    public IReadOnlyList<Removal> Removals { get; init; } = [];

    /// <summary>The accesses to choose from: name in addresses, name for people.</summary>
    public IReadOnlyList<KeyValuePair<string, string>> Accesses { get; init; } = [];

    /// <summary>What is to be known of the data: a sentence each, with the station before it.</summary>
    public Grid Quality { get; init; } = new([], 0, []);

    /// <summary>What count shifts tell of boats; without rows when nobody counted.</summary>
    public Grid Boats { get; init; } = new([], 0, []);

    /// <summary>A table without rows.</summary>
    public Grid Nothing => new([], 0, []);

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
        IReadOnlyList<string> Heads, int Words, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string>? Total = null)
    {
        /// <summary>The key of the figure in each column; null in a column without one, or when no cell leads to rows.</summary>
        public IReadOnlyList<string?>? Keys { get; init; }
    }

    /// <summary>What samples say of one kind of organism in one water.</summary>
    /// <param name="Name">The organism, the water and the year.</param>
    /// <param name="Sentence">How many were in the collected water.</param>
    /// <param name="Labels">What must be said beside that.</param>
    /// <param name="When">Which months may have been highest; empty when nothing was found.</param>
    /// <param name="Months">By month.</param>
    /// <param name="Chart">Options of the picture by month, as JSON; null when nothing was found.</param>
    /// <param name="Address">The curve's own page.</param>
    public sealed record Removal(string Name, string Sentence, IReadOnlyList<string> Labels, string When, Grid Months, string? Chart, string Address);

    private static readonly (string Name, FigureDefinition[] Figures)[] ThemesShown =
    [
        ("In service", [
            SeasonDefinitions.DaysInService, SeasonDefinitions.RequiredHours, SeasonDefinitions.ReportingCoverage, SeasonDefinitions.AvailabilityShare,
            SeasonDefinitions.DownHours, SeasonDefinitions.MeanDownTime, SeasonDefinitions.Failures, SeasonDefinitions.MeanTimeBetweenFailures,
            SeasonDefinitions.MeanTimeToRestoration]),
        ("Tool uses", [SeasonDefinitions.Uses, SeasonDefinitions.UsesOnUncertainDay, SeasonDefinitions.Restarts, SeasonDefinitions.UseSessions]),
        ("Water kept", [SeasonDefinitions.PumpOuts, SeasonDefinitions.PumpedOut, SeasonDefinitions.PumpedOutUncertainty, SeasonDefinitions.TakenIn, SeasonDefinitions.InTank]),
        ("Tickets", [
            SeasonDefinitions.TicketsRaised, SeasonDefinitions.TicketsClosed, SeasonDefinitions.TicketsOpen,
            SeasonDefinitions.MedianTimeToClose, SeasonDefinitions.MeanActiveRepair]),
        ("Visits and cost", [
            SeasonDefinitions.Visits, SeasonDefinitions.VisitHours, SeasonDefinitions.VisitHoursPaid, SeasonDefinitions.VisitHoursMatch, SeasonDefinitions.VisitHoursVolunteer,
            SeasonDefinitions.Cost, SeasonDefinitions.CostPerSession]),
    ];

    internal static SeasonView Of(SummariseSeason.Outcome.Summarised outcome, SummariseSeason.Query query, UnitSystem units)
    {
        string? station = query.Station;
        (SeasonReport report, SeasonChoices choices) = (outcome.Report, outcome.Choices);
        SeasonSummary summary = report.Summary;
        return new SeasonView(
            summary.Season.Year, string.IsNullOrEmpty(station) ? null : station, outcome.Years, [.. choices.Stations.Select(each => each.Code)],
            report.Title + (summary.IsRunning ? ", so far" : ""),
            SeasonWords.Headline(summary, units),
            SeasonWords.Backing(summary),
            [.. ThemesShown.Select(theme => new Theme(theme.Name, ThemeGrid(summary, theme.Figures, units)))],
            MonthGrid(summary),
            SeasonLists.Tickets(summary),
            SeasonLists.PumpOuts(summary, units),
            SeasonCharts.UsesByWeek(summary.Weeks))
        {
            Asked = query.Address,
            Awards = choices.Awards,
            Owners = choices.Owners,
            Accesses = [.. choices.Accesses.Select(access => KeyValuePair.Create(access.Slug, $"{access.Name}, {access.Water}"))],
            Shared = report.Shared,
            Comparison = report.Before is { } before ? ComparisonGrid(report.Changes, summary, before, units) : null,
            ComparisonNote = SeasonComparison.Note,
            Removals = [.. report.Removals.Select(removal => RemovalOf(removal, units))],
            Boats = SeasonLists.Boats(summary),
            Quality = new Grid(["Station", "What to know of its data"], 2,
                [.. report.Quality.SelectMany(row => row.Sentences, (row, sentence) => (IReadOnlyList<string>)[row.Station, sentence])]),
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
            summary.Stations.Count > 1 ? Row("All stations", summary.Fleet) : null)
        {
            Keys = [null, .. figures.Select(figure => figure.Key)],
        };

        IReadOnlyList<string> Row(string name, SeasonFigures values) =>
            [name, .. figures.Select(figure => SeasonWords.Value(values.Listed.First(value => value.Definition == figure), units))];
    }

    private static Grid ComparisonGrid(IReadOnlyList<FigureChange> changes, SeasonSummary now, SeasonSummary before, UnitSystem units) => new(
        ["Figure", "Change", SeasonWords.Named(now), SeasonWords.NamedBefore(before), "By"],
        2,
        [
            .. changes.Where(change => change.Value is not null || change.Before is not null).Select(change => (IReadOnlyList<string>)
            [
                change.About.Length > 0 ? change.Name : SeasonLists.Head(change.Definition, units),
                SeasonComparison.Say(change.Verdict),
                SeasonWords.Value(new FigureValue(change.Definition, change.Value), units),
                SeasonWords.Value(new FigureValue(change.Definition, change.Before), units),
                SeasonWords.Change(change.Share),
            ]),
        ]);

    private static Removal RemovalOf(SeasonRemoval removal, UnitSystem units)
    {
        bool isFound = removal.Months.Months.Any(month => month.Count > 0);
        return new Removal(
            string.Create(CultureInfo.InvariantCulture, $"{removal.Name}, {removal.Water}, {removal.Year}"),
            SeasonTotalWords.Sentence(removal.Total, units),
            [.. removal.Total.Labels.Select(label => SeasonTotalWords.Label(label, removal.Total))],
            isFound ? MonthWords.Sentence(removal.Months) : "",
            new Grid(
                ["Month", "In a litre", "95 % interval", "Tank periods sampled", "Counted", "Looked through, L"], 1,
                [
                    .. removal.Months.Months.Select(month => (IReadOnlyList<string>)
                    [
                        SeasonTotalWords.Months([month.Month]),
                        month.Value is { } value ? NumberWords.Significant(value.Value, 2) : "no sample",
                        month.Value is { } limits ? $"{NumberWords.Significant(limits.Low, 2)} to {NumberWords.Significant(limits.High, 2)}" : "–",
                        SeasonLists.Count(month.SampledPeriods), SeasonLists.Count(month.Count), month.ExaminedLitres.ToString("0.##", CultureInfo.InvariantCulture),
                    ]),
                ]),
            isFound ? MonthChart.Of(removal.Months) : null,
            string.Create(CultureInfo.InvariantCulture, $"/samples/season?year={removal.Year}&water={Uri.EscapeDataString(removal.Water)}&kind={Uri.EscapeDataString(removal.Name)}"));
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
                : null)
        {
            Keys =
            [
                null, null, .. months.Select(_ => SeasonDefinitions.Uses.Key), SeasonDefinitions.Uses.Key, SeasonDefinitions.UsesOnUncertainDay.Key, SeasonDefinitions.Restarts.Key,
            ],
        };

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
