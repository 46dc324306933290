using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Seasons;

/// <summary>The tables that both the workbook and the CSV files hold.</summary>
internal static class SeasonTables
{
    public static readonly ReportColumn Station = SeasonColumns.Words("station", "Station", "The station's code.");

    private const string LocalTimes = "Times are by the clock of the station's access.";

    /// <summary>One row per ticket.</summary>
    public static ReportTable Tickets(SeasonSummary summary) => new(
        "tickets", "Tickets",
        [
            SeasonColumns.Words("ticket", "Ticket", "The ticket's number as people say it."),
            Station,
            SeasonColumns.Words("rule", "Rule", "The rule of the watch that raised it."),
            SeasonColumns.Words("part", "Part", "The tool it is about; empty for the whole station."),
            new("raised", "Raised", ColumnKind.Instant, "", "When it was raised, in UTC."),
            new("done", "Done", ColumnKind.Instant, "", "When the work was done, in UTC, by the phone's clock; empty while open."),
            SeasonColumns.Words("outcome", "Outcome", "How it ended; empty while open."),
            new("hours_to_close", "Time to close [h]", ColumnKind.Number, "h", "From raised until done; empty while open."),
            new("down_hours", "Down time [h]", ColumnKind.Number, "h",
                "Required time of the season that the station was down because of this ticket. Overlapping tickets each show theirs; "
                + "the station's down time counts them once."),
        ],
        [
            .. summary.Stations.SelectMany(station => station.Tickets.Select(ticket => (IReadOnlyList<Cell>)
            [
                Cell.Of(string.Create(CultureInfo.InvariantCulture, $"T-{ticket.Number}")),
                Cell.Of(station.Code),
                Cell.Of(Spoken(ticket.Rule)),
                Cell.Of(ticket.Part),
                Cell.At(ticket.Raised, station.Zone),
                Cell.At(ticket.Done, station.Zone),
                Cell.Of(ticket.Outcome is { } outcome ? Spoken(outcome) : null),
                SeasonColumns.Hours(ticket.TimeToClose),
                SeasonColumns.Hours(ticket.Down),
            ])),
        ])
    {
        Note = LocalTimes,
    };

    /// <summary>One row per pump-out.</summary>
    public static ReportTable PumpOuts(SeasonSummary summary, UnitSystem units) => new(
        "pump-outs", "Pump-outs",
        [
            Station,
            new("at", "At", ColumnKind.Instant, "", "When the tank was emptied, in UTC."),
            SeasonColumns.Column(SeasonDefinitions.PumpedOut, units),
            SeasonColumns.Column(SeasonDefinitions.PumpedOutUncertainty, units),
            SeasonColumns.Words("known_from", "Known from", "Whether the sensor saw it, a person wrote it down, or both."),
        ],
        [
            .. summary.Stations.SelectMany(station => station.PumpOuts.Select(pumpOut => (IReadOnlyList<Cell>)
            [
                Cell.Of(station.Code),
                Cell.At(pumpOut.At, station.Zone),
                SeasonColumns.Volume(pumpOut.Litres, units),
                SeasonColumns.Volume(pumpOut.UncertaintyLitres, units),
                Cell.Of(Spoken(pumpOut.Witness)),
            ])),
        ])
    {
        Note = LocalTimes,
    };

    /// <summary>One row per figure of all stations together: beside the year before.</summary>
    /// <param name="report">The season.</param>
    /// <param name="units">The units of the values.</param>
    /// <param name="unit">The unit in which a figure is shown.</param>
    public static ReportTable Comparison(SeasonReport report, UnitSystem units, Func<FigureDefinition, string> unit) => new(
        "comparison", "Beside the year before",
        [
            SeasonColumns.Words("figure", "Figure", "The figure, of all stations together."),
            SeasonColumns.Words("about", "About", "The organism and the water that it is about; empty for a figure of the stations."),
            SeasonColumns.Words("unit", "Unit", "Its unit; empty for a count."),
            new("value", SeasonWords.Named(report.Summary), ColumnKind.Figure, "", "The figure on these days."),
            new("year_before", report.Before is { } before ? SeasonWords.NamedBefore(before) : "A year before", ColumnKind.Figure, "", "The figure on the same days of the year before."),
            new("change", "Change", ColumnKind.Number, "1", "The difference divided by the figure of the year before; empty when that is 0 or not known."),
            SeasonColumns.Words("verdict", "Is it more than noise?", "Whether chance alone would do as much in at most one of twenty cases; not tested where the scatter is not known."),
        ],
        [
            .. report.Changes.Where(change => change.Value is not null || change.Before is not null).Select(change => (IReadOnlyList<Cell>)
            [
                Cell.Of(change.Definition.Name), Cell.Of(change.About), Cell.Of(unit(change.Definition)),
                SeasonColumns.Of(change.Definition, change.Value, units), SeasonColumns.Of(change.Definition, change.Before, units),
                Cell.Share(change.Share), Cell.Of(SeasonComparison.Say(change.Verdict)),
            ]),
        ])
    {
        Note = SeasonComparison.Note,
    };

    /// <summary>One row per sentence: what is to be known of the data.</summary>
    public static ReportTable Quality(SeasonReport report) => new(
        "data-quality", "The data behind it",
        [
            Station,
            SeasonColumns.Words("remark", "What to know of its data", "A gap, records set aside, or an uncertain or assumed value."),
        ],
        [.. report.Quality.SelectMany(notes => notes.Sentences, (notes, sentence) => (IReadOnlyList<Cell>)[Cell.Of(notes.Station), Cell.Of(sentence)])]);

    /// <summary>One row per figure: what it means.</summary>
    /// <param name="unit">The unit in which the other tables show a figure.</param>
    public static ReportTable Definitions(Func<FigureDefinition, string> unit) => new(
        "definitions", "Definitions",
        [
            SeasonColumns.Words("figure", "Figure", "The figure's name for people."),
            SeasonColumns.Words("column", "Column in CSV", "The figure's name in the other files."),
            SeasonColumns.Words("unit", "Unit", "Its unit; empty for a count."),
            SeasonColumns.Words("definition", "Definition", "How it is made."),
            SeasonColumns.Words("source", "Source", "Where the definition comes from."),
        ],
        [
            .. SeasonDefinitions.All.Concat(SeasonDefinitions.OfSamples).Select(figure => (IReadOnlyList<Cell>)
            [
                Cell.Of(figure.Name), Cell.Of(figure.Key), Cell.Of(unit(figure)), Cell.Of(figure.Definition), Cell.Of(figure.Source),
            ]),
        ]);

    // «IdleTool» reads «Idle tool».
    public static string Spoken<TWord>(TWord word)
        where TWord : struct, Enum =>
        string.Concat(word.ToString().Select((letter, place) =>
            place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : letter.ToString()));
}
