using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Seasons;

/// <summary>The rows of a season as loaded, and what each station's part of them is.</summary>
internal sealed class SeasonRows
{
    /// <summary>Not later than the season's first instant anywhere.</summary>
    public required DateTimeOffset From { get; init; }

    /// <summary>Nothing from this instant on was loaded.</summary>
    public required DateTimeOffset End { get; init; }

    public required TimeZoneInfo FleetZone { get; init; }

    public required IReadOnlyList<Station> Stations { get; init; }

    public required IReadOnlyDictionary<AccessId, Access> Accesses { get; init; }

    public required IReadOnlyList<Placement> Placements { get; init; }

    public required IReadOnlyList<AccessClosure> Closures { get; init; }

    public required IReadOnlyList<WinterStorage> Winters { get; init; }

    public required IReadOnlyList<Tool> Tools { get; init; }

    public required IReadOnlyList<StationTank> Tanks { get; init; }

    public required IReadOnlyList<PumpOut> PumpOuts { get; init; }

    public required IReadOnlyList<Ticket> Tickets { get; init; }

    public required ILookup<TicketId, TicketEvent> Events { get; init; }

    public required IReadOnlyDictionary<TicketId, int> Minutes { get; init; }

    public SeasonStation Station(Station station, IReadOnlyList<SeriesDay> days)
    {
        Placement[] placements = [.. Placements.Where(placement => placement.StationId == station.Id)];
        Access? place = placements.LastOrDefault() is { } last ? Accesses[last.AccessId] : null;
        TankSetup? tank = Tanks.LastOrDefault(row => row.StationId == station.Id) is { } row
            ? new TankSetup(row.CapacityLitres, row.HeightM, row.SensorHeightM)
            : null;
        StationSetup setup = new(
            station.Code, place?.Zone ?? FleetZone, station.Created, station.ReportEvery,
            [
                .. Tools.Where(tool => tool.StationId == station.Id)
                    .Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.IdleAfterDays)),
            ],
            tank, Power: null, RuleSettings.Default,
            SeasonQuiet.Of(From, End, placements, Closures, Winters.Where(winter => winter.StationId == station.Id)));
        return new SeasonStation(
            station.Id,
            place is null ? "" : $"{place.Name}, {place.Water}",
            setup,
            Uses(days),
            Reporting(days),
            NewestTank(days, tank),
            [
                .. PumpOuts.Where(pumpOut => pumpOut.StationId == station.Id)
                    .Select(pumpOut => new PumpOutRecord(pumpOut.At, pumpOut.Litres, pumpOut.Source == PumpOutSource.Telemetry)),
            ],
            [.. Tickets.Where(ticket => ticket.StationId == station.Id).Select(Ticket)]);
    }

    private TicketRecord Ticket(Ticket ticket) => new(
        ticket.Number, ticket.Rule, ticket.Part, ticket.Raised,
        ticket.State == TicketState.Closed ? ticket.DoneAt ?? ticket.Closed : null,
        ticket.Outcome,
        Minutes.TryGetValue(ticket.Id, out int minutes) ? TimeSpan.FromMinutes(minutes) : null,
        [.. Events[ticket.Id].Select(happening => new TicketHappening(happening.At, happening.Kind))]);

    private static List<ToolUsesDay> Uses(IEnumerable<SeriesDay> days) =>
    [
        .. from day in days
           let tool = MeasurementName.ToolOfUses(day.Name)
           where tool is not null
           let figures = day.RollUp.Figures
           select new ToolUsesDay(
               tool, day.RollUp.Day, figures.Known, figures.AcrossHours, figures.AcrossDays, figures.Uncertain),
    ];

    // A day at two placements has two rows of each series.
    private static List<ReportingDay> Reporting(IEnumerable<SeriesDay> days) =>
    [
        .. days.GroupBy(day => day.RollUp.Day).Select(day => new ReportingDay(
            day.Key, day.GroupBy(row => row.Name).Max(series => series.Sum(row => row.RollUp.Hours)))),
    ];

    private static TankReading? NewestTank(IEnumerable<SeriesDay> days, TankSetup? tank) => days
        .Where(day => day.Name is MeasurementName.TankFill or MeasurementName.TankLevel or MeasurementName.TankDistance)
        .Select(day => new TankReading(day.Name, day.RollUp.Figures.LastAt, day.RollUp.Figures.Last))
        .Where(reading => tank?.FillShare(reading.Name, reading.Value) is not null)
        .MaxBy(reading => reading.At);
}
