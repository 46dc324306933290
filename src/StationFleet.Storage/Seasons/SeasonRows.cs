using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Seasons;

/// <summary>The rows of a season as loaded, and what each station's part of them is.</summary>
internal sealed class SeasonRows
{
    public required TimeZoneInfo FleetZone { get; init; }

    /// <summary>Where each station stood, in order of time.</summary>
    public required ILookup<StationId, string> Places { get; init; }

    /// <summary>Every tool that hung on a station at some time in the season, in order of hanging.</summary>
    public required IReadOnlyList<Tool> Tools { get; init; }

    public required IReadOnlyList<PumpOut> PumpOuts { get; init; }

    public required IReadOnlyList<Ticket> Tickets { get; init; }

    public required ILookup<TicketId, TicketEvent> Events { get; init; }

    public required IReadOnlyDictionary<TicketId, int> Minutes { get; init; }

    public required ILookup<StationId, VisitRecord> Visits { get; init; }

    /// <summary>Count shifts that were not taken back.</summary>
    public required ILookup<StationId, CountShift> Counts { get; init; }

    /// <summary>What was booked, by the station it names.</summary>
    public required ILookup<StationId?, (DateOnly Day, Money Amount)> Costs { get; init; }

    /// <summary>The placements to count alone; null counts all time.</summary>
    public required IReadOnlyList<Placement>? Stays { get; init; }

    public IReadOnlyCollection<PlacementId>? OnlyPlacements => Stays?.Select(stay => stay.Id).ToHashSet();

    /// <summary>No station is left out.</summary>
    public required bool CoversAll { get; init; }

    public ILookup<StationId, UseHoursDay> UseHours { get; set; } = null!;

    /// <summary>What was booked for a station, or without naming one; null when nothing was.</summary>
    public Money? CostOf(StationId? station) => CostOf(station, null, TimeZoneInfo.Utc);

    // A day belongs to where the station stood at its noon.
    private Money? CostOf(StationId? station, IReadOnlyList<UtcInterval>? only, TimeZoneInfo zone)
    {
        Money[] booked =
        [
            .. Costs[station].Where(entry => only is null || only.Any(stay => stay.Contains(LocalCalendar.StartOf(entry.Day, zone).AddHours(12)))).Select(entry => entry.Amount),
        ];
        return booked.Length > 0 ? Money.Sum(booked) : null;
    }

    public SeasonStation Station(StationId id, StationSetup setup, IReadOnlyList<SeriesDay> all)
    {
        Placement[]? stays = Stays?.Where(stay => stay.StationId == id).ToArray();
        UtcInterval[]? only = stays?.Where(stay => stay.To is null || stay.To > stay.From)
            .Select(stay => new UtcInterval(stay.From, stay.To ?? DateTimeOffset.MaxValue)).ToArray();
        SeriesDay[] days = stays is null ? [.. all] : [.. all.Where(day => stays.Any(stay => stay.Id == day.RollUp.Placement))];
        return Station(id, setup, days, all, only);
    }

    private SeasonStation Station(
        StationId id, StationSetup setup, IReadOnlyList<SeriesDay> days, IReadOnlyList<SeriesDay> allDays, IReadOnlyList<UtcInterval>? only) => new(
        id,
        Places[id].LastOrDefault() ?? "",
        setup with
        {
            Tools =
            [
                .. Tools.Where(tool => tool.StationId == id)
                    .Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.IdleAfterDays, tool.UsesWrapAt)),
            ],
        },
        Uses(days),
        Reporting(days),
        NewestTank(days, setup.Tank),
        [
            .. PumpOuts.Where(pumpOut => pumpOut.StationId == id)
                .Select(pumpOut => pumpOut.ToRecord(setup.Tank, setup.Dips)),
        ],
        [.. Tickets.Where(ticket => ticket.StationId == id).Select(Ticket)])
    {
        UseHours = [.. UseHours[id]],
        Visits = [.. Visits[id]],
        Counts = [.. Counts[id]],
        Only = only,
        Cost = CostOf(id, only, setup.Zone),
        TankDays =
        [
            .. allDays.GroupBy(day => day.RollUp.Day).Select(day => NewestTank(day, setup.Tank)).OfType<TankReading>().OrderBy(reading => reading.At),
        ],
    };

    private TicketRecord Ticket(Ticket ticket) => TicketRecords.Of(
        ticket, Events[ticket.Id], Minutes.TryGetValue(ticket.Id, out int minutes) ? TimeSpan.FromMinutes(minutes) : null);

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

    private static TankReading? NewestTank(IEnumerable<SeriesDay> days, TankHistory tank) => days
        .Where(day => TankReading.NeededNames.Contains(day.Name))
        .Select(day => new Measurement(day.Name, day.RollUp.Figures.LastAt, day.RollUp.Figures.Last))
        .GroupBy(last => last.Name).Select(name => name.MaxBy(last => last.At)).ToArray() is { Length: > 0 } newest
            ? tank.ReadBest(newest)?.Reading
            : null;
}
