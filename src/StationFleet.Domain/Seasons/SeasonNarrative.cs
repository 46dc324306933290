using System.Globalization;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;

namespace StationFleet.Domain.Seasons;

/// <summary>A season told in plain text, ready to paste into a report, with the numbers filled in.</summary>
public static class SeasonNarrative
{
    /// <summary>What every reader of the figures has to keep in mind.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Availability is that of the tickets: a station counts as down from when the watch raised a ticket, not from when a boater first "
        + "found it broken. What the watch cannot see does not count.",
        "Time to restoration includes the night, the weekend and the drive; mean active repair is the work at the station.",
        "A gap in reporting loses no uses, only their day: counters go on while nothing is heard. Only a restart within the gap loses uses, "
        + "and it is counted.",
        "A mean of few failures says little: read it beside their number.",
        "Figures of stations that several awards pay for stand in the report of each: do not add them.",
    ];

    /// <summary>Writes the text.</summary>
    /// <param name="report">The season.</param>
    /// <param name="units">The reader's units.</param>
    /// <param name="agency">Who answers for it.</param>
    /// <param name="isInvented">The data are invented, and the first line says so.</param>
    public static string Write(SeasonReport report, UnitSystem units, string agency, bool isInvented)
    {
        ArgumentNullException.ThrowIfNull(report);
        SeasonSummary summary = report.Summary;
        Dictionary<string, string> said = summary.Fleet.Listed.ToDictionary(figure => figure.Definition.Key, figure => SeasonWords.Value(figure, units));
        string volume = Units.VolumeUnit(units);
        List<string> parts =
        [
            .. isInvented ? ["Invented data."] : Array.Empty<string>(),
            $"{agency}\n{report.Title}{(summary.IsRunning ? ", so far" : "")}",
            SeasonWords.Headline(summary, units),
            SeasonWords.Backing(summary),
            $"Required time was {said[SeasonDefinitions.DaysInService.Key]} station days. In it the stations were down for "
            + $"{said[SeasonDefinitions.DownHours.Key]} hours in {said[SeasonDefinitions.Failures.Key]} failures; a station was restored after "
            + $"{said[SeasonDefinitions.MeanTimeToRestoration.Key]} hours on average, nights and driving included.",
            $"The tanks were emptied {said[SeasonDefinitions.PumpOuts.Key]} times and gave {said[SeasonDefinitions.PumpedOut.Key]} {volume} of waste water"
            + (summary.Fleet.LitresPumpedOutUncertainty is null ? "." : $" (of what the sensors saw, ±{said[SeasonDefinitions.PumpedOutUncertainty.Key]} {volume})."),
            .. summary.Fleet.Boats.Shifts.Any() ? [CountWords.Narrative(summary.Fleet.Boats)] : Array.Empty<string>(),
            .. YearBefore(report),
            .. Samples(report, units),
            Stations(summary, units),
            .. report.Shared.Length > 0 ? [report.Shared] : Array.Empty<string>(),
            .. Data(report),
            "What to keep in mind:\n" + string.Join('\n', Cautions.Select(caution => $"- {caution}")),
            string.Create(CultureInfo.InvariantCulture, $"Counted up to {summary.AsOf.UtcDateTime:yyyy-MM-dd'T'HH:mm'Z'}."),
        ];
        return string.Join("\n\n", parts) + "\n";
    }

    private static IEnumerable<string> YearBefore(SeasonReport report)
    {
        string[] tested =
        [
            .. report.Changes.Where(change => change.Verdict != ChangeVerdict.NotTested).Select(change =>
                $"- {change.Name}: {Said(change.Value)}, a year before {Said(change.Before)} ({SeasonWords.Change(change.Share)}, {SeasonComparison.Say(change.Verdict)})."),
        ];
        return tested.Length == 0 ? [] : ["Beside the same days of the year before, as far as the change can be told from noise:\n" + string.Join('\n', tested)];

        string Said(double? value) => value?.ToString("#,##0", CultureInfo.InvariantCulture) ?? "–";
    }

    private static IEnumerable<string> Samples(SeasonReport report, UnitSystem units) => report.Removals.Count == 0
        ? []
        : [string.Join('\n', report.Removals.Select(removal => string.Create(CultureInfo.InvariantCulture, $"{removal.Water}, {removal.Year}: {SeasonTotalWords.Sentence(removal.Total, units)}")))
            + "\nAlive or dead is not determined; this is no count of introductions prevented."];

    private static IEnumerable<string> Data(SeasonReport report) => report.Quality.Count == 0
        ? []
        : ["The data behind it:\n" + string.Join('\n', report.Quality.Select(notes => $"- {notes.Station}: {string.Join(' ', notes.Sentences)}"))];

    private static string Stations(SeasonSummary summary, UnitSystem units) => string.Join('\n', summary.Stations.Select(station =>
    {
        Dictionary<string, string> said = station.Figures.Listed.ToDictionary(figure => figure.Definition.Key, figure => SeasonWords.Value(figure, units));
        return $"{station.Code}{(station.Place.Length > 0 ? $" ({station.Place})" : "")}: {said[SeasonDefinitions.DaysInService.Key]} days in service, "
            + $"available {said[SeasonDefinitions.AvailabilityShare.Key]}, {said[SeasonDefinitions.Uses.Key]} uses, "
            + $"{said[SeasonDefinitions.PumpedOut.Key]} {Units.VolumeUnit(units)} pumped out.";
    }));
}
