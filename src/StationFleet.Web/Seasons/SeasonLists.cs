using System.Globalization;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;

namespace StationFleet.Web.Seasons;

/// <summary>A season's tickets and pump-outs, in words.</summary>
internal static class SeasonLists
{
    public static SeasonView.Grid Tickets(SeasonSummary summary) => new(
        ["Ticket", "Station", "Why", "Raised", "Done", "Outcome", "Time to close", "Down"],
        6,
        [
            .. summary.Stations
                .SelectMany(station => station.Tickets, (station, ticket) => (station, ticket))
                .OrderByDescending(row => row.ticket.Raised)
                .Select(row => (IReadOnlyList<string>)
                [
                    string.Create(CultureInfo.InvariantCulture, $"T-{row.ticket.Number}"),
                    row.station.Code,
                    row.ticket.Part.Length > 0 ? $"{Spoken(row.ticket.Rule)}: {row.ticket.Part}" : Spoken(row.ticket.Rule),
                    Time(row.ticket.Raised, row.station.Zone),
                    row.ticket.Done is { } done ? Time(done, row.station.Zone) : "open",
                    row.ticket.Outcome is { } outcome ? Spoken(outcome) : "",
                    row.ticket.TimeToClose is { } time ? SeasonWords.Duration(time) : "–",
                    SeasonWords.Duration(row.ticket.Down),
                ]),
        ]);

    public static SeasonView.Grid PumpOuts(SeasonSummary summary, UnitSystem units) => new(
        ["Station", "When", "Known from", Head(SeasonDefinitions.PumpedOut, units), "±"],
        3,
        [
            .. summary.Stations
                .SelectMany(station => station.PumpOuts, (station, pumpOut) => (station, pumpOut))
                .OrderByDescending(row => row.pumpOut.At)
                .Select(row => (IReadOnlyList<string>)
                [
                    row.station.Code,
                    Time(row.pumpOut.At, row.station.Zone),
                    row.pumpOut.Witness switch
                    {
                        PumpOutWitness.Sensor => "sensor",
                        PumpOutWitness.Person => "written down",
                        _ => "sensor and written down",
                    },
                    Count(Units.VolumeFor(row.pumpOut.Litres, units)),
                    row.pumpOut.UncertaintyLitres is { } uncertainty ? NumberWords.Brief(Units.VolumeFor(uncertainty, units)) : "–",
                ]),
        ]);

    /// <summary>What count shifts tell, each figure with its limits at 95 %.</summary>
    public static SeasonView.Grid Boats(SeasonSummary summary)
    {
        StationSeason[] counted = [.. summary.Stations.Where(station => station.Figures.Boats.Shifts.Any())];
        return new SeasonView.Grid(
            ["Station", "Count shifts", BoatDefinitions.UsesPerBoat.Name, BoatDefinitions.Boats.Name, BoatDefinitions.Share.Name, BoatDefinitions.Coverage.Name],
            1,
            [.. counted.Select(station => Row(station.Code, station.Figures.Boats))],
            counted.Length > 1 ? Row("All of them", summary.Fleet.Boats) : null)
        {
            Keys = [null, BoatDefinitions.Shifts.Key, BoatDefinitions.UsesPerBoat.Key, BoatDefinitions.Boats.Key, BoatDefinitions.Share.Key, BoatDefinitions.Coverage.Key],
        };

        static IReadOnlyList<string> Row(string name, BoatCounts counts) =>
        [
            name,
            Count(counts.Shifts.Count()),
            counts.UsesPerBoat is { } ratio ? CountWords.Ratio(ratio) : "–",
            counts.Boats is { } boats ? CountWords.Boats(boats) : "–",
            counts.Share is { Share: var share } ? CountWords.Share(share) : "–",
            counts.Coverage is { } coverage ? NumberWords.Percent(coverage) : "–",
        ];
    }

    /// <summary>A figure's name with its unit; a percentage carries its own sign.</summary>
    public static string Head(FigureDefinition figure, UnitSystem units) =>
        figure.Unit is not (FigureUnit.Count or FigureUnit.Share) && figure.UnitName(units) is { Length: > 0 } unit ? $"{figure.Name}, {unit}" : figure.Name;

    public static string Count(double value) => value.ToString("#,##0", CultureInfo.InvariantCulture);

    private static string Time(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM, HH:mm", CultureInfo.InvariantCulture);

    // «IdleTool» reads «Idle tool».
    private static string Spoken<TWord>(TWord word)
        where TWord : struct, Enum =>
        string.Concat(word.ToString().Select((letter, place) =>
            place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : letter.ToString()));
}
