using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Seasons;

/// <summary>All that a season's figures are made from.</summary>
/// <param name="Season">The season.</param>
/// <param name="AsOf">Nothing from this instant on is counted: now, while the season runs.</param>
/// <param name="Stations">The stations to count.</param>
public sealed record SeasonInput(Season Season, DateTimeOffset AsOf, IReadOnlyList<SeasonStation> Stations)
{
    /// <summary>What was booked on these days without naming a station; null when nothing was, or when some stations are left out.</summary>
    public Money? SharedCost { get; init; }
}

/// <summary>One station's part of a season.</summary>
/// <param name="Id">The station.</param>
/// <param name="Place">Where it stands, or stood last; empty when it never stood anywhere.</param>
/// <param name="Setup">Its set-up, with every tool that hung on it in the season and every quiet period.</param>
/// <param name="Uses">Its tools' uses by local day.</param>
/// <param name="Reporting">How complete its data are, by local day.</param>
/// <param name="Tank">Its newest tank measurement in the season; null when there is none.</param>
/// <param name="PumpOuts">Its pump-outs, as sensor and people recorded them.</param>
/// <param name="Tickets">Its tickets: all that were open at some time in the season.</param>
public sealed record SeasonStation(
    StationId Id,
    string Place,
    StationSetup Setup,
    IReadOnlyList<ToolUsesDay> Uses,
    IReadOnlyList<ReportingDay> Reporting,
    TankReading? Tank,
    IReadOnlyList<PumpOutRecord> PumpOuts,
    IReadOnlyList<TicketRecord> Tickets)
{
    /// <summary>Its tank measurements: the last of each local day that has one, by time.</summary>
    public IReadOnlyList<TankReading> TankDays { get; init; } = [];

    /// <summary>Clock hours in which a tool was used, by local day.</summary>
    public IReadOnlyList<UseHoursDay> UseHours { get; init; } = [];

    /// <summary>The only time to count, such as the station's stays at one access; null counts the whole season.</summary>
    public IReadOnlyList<UtcInterval>? Only { get; init; }

    /// <summary>Visits of people.</summary>
    public IReadOnlyList<VisitRecord> Visits { get; init; } = [];

    /// <summary>Shifts in which people counted boats.</summary>
    public IReadOnlyList<CountShift> Counts { get; init; } = [];

    /// <summary>What was booked on the season's days for the station; null when nothing was.</summary>
    public Money? Cost { get; init; }

    /// <summary>The part of a window that counts; in order, without overlaps.</summary>
    internal IReadOnlyList<UtcInterval> Counted(UtcInterval window) =>
        Only is null ? [window] : Intervals.Union(Only.Select(window.Intersect).OfType<UtcInterval>());
}

/// <summary>A tool's uses on one local day, in the parts in which they are known.</summary>
/// <param name="Tool">The tool's slug.</param>
/// <param name="Day">The local day.</param>
/// <param name="Known">Uses known to the hour.</param>
/// <param name="AcrossHours">Uses counted over several hours of this day.</param>
/// <param name="AcrossDays">Uses counted over several days and put on this, the last of them.</param>
/// <param name="Uncertain">Times that the counter restarted, so that uses may be missing.</param>
public sealed record ToolUsesDay(string Tool, DateOnly Day, double Known, double AcrossHours, double AcrossDays, int Uncertain)
{
    /// <summary>All of the day's uses.</summary>
    public double Total => Known + AcrossHours + AcrossDays;
}

/// <summary>The clock hours of a local day in which a tool was used.</summary>
/// <param name="Day">The local day.</param>
/// <param name="Hours">How many; 0 to 25.</param>
public sealed record UseHoursDay(DateOnly Day, int Hours);

/// <summary>A person's visit to a station.</summary>
/// <param name="At">When.</param>
/// <param name="Time">How long; null when nobody wrote it down.</param>
/// <param name="Hours">Whose hours it took; null when nobody said.</param>
public sealed record VisitRecord(DateTimeOffset At, TimeSpan? Time, HoursKind? Hours = null);

/// <summary>How complete a station's data of one local day are.</summary>
/// <param name="Day">The local day.</param>
/// <param name="HoursWithData">Clock hours with at least one measurement, 0 to 25.</param>
public sealed record ReportingDay(DateOnly Day, int HoursWithData);

/// <summary>A pump-out as it was recorded.</summary>
/// <param name="At">When.</param>
/// <param name="Litres">How much [L]; 0 or more.</param>
/// <param name="SeenBySensor">The station's own sensor saw the level fall; otherwise a person wrote it down.</param>
/// <param name="UncertaintyLitres">Its standard uncertainty [L]; null when not known, as where a person wrote it down.</param>
public sealed record PumpOutRecord(DateTimeOffset At, double Litres, bool SeenBySensor, double? UncertaintyLitres = null);

/// <summary>A ticket and what happened to it.</summary>
/// <param name="Number">The number that people say.</param>
/// <param name="Rule">The rule that raised it.</param>
/// <param name="Part">The part it is about: a tool's slug, or empty.</param>
/// <param name="Raised">When it was raised.</param>
/// <param name="DoneAt">When its work was done, by the phone's clock; null while open.</param>
/// <param name="Outcome">How it ended; null while open.</param>
/// <param name="ActiveWork">Work at the station for it; null when nobody wrote it down.</param>
/// <param name="Events">What happened, in any order.</param>
public sealed record TicketRecord(
    int Number,
    Rule Rule,
    string Part,
    DateTimeOffset Raised,
    DateTimeOffset? DoneAt,
    TicketOutcome? Outcome,
    TimeSpan? ActiveWork,
    IReadOnlyList<TicketHappening> Events);

/// <summary>One thing that happened to a ticket.</summary>
/// <param name="At">When.</param>
/// <param name="Kind">What.</param>
public sealed record TicketHappening(DateTimeOffset At, TicketEventKind Kind);
