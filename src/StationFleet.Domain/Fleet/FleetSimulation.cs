namespace StationFleet.Domain.Fleet;

/// <summary>The part of a fleet file that only the simulator reads: how busy the accesses are and what goes wrong when.</summary>
public sealed record FleetSimulation
{
    /// <summary>The seed; the same seed gives the same world.</summary>
    public long Seed { get; init; } = 1;

    /// <summary>Mean boats a day over a season, by the access's slug; an access that is not named has 8.</summary>
    public IReadOnlyDictionary<string, double> BoatsPerDay { get; init; } = new Dictionary<string, double>();

    /// <summary>What a tool does beside the defaults of its kind, by <c>CODE/slug</c>.</summary>
    public IReadOnlyDictionary<string, SimulatedToolUse> Tools { get; init; } = new Dictionary<string, SimulatedToolUse>();

    /// <summary>Days busier (or quieter) than their weekday.</summary>
    public IReadOnlyList<SimulatedHoliday> Holidays { get; init; } = [];

    /// <summary>What goes wrong.</summary>
    public IReadOnlyList<PlannedFault> Faults { get; init; } = [];

    /// <summary>When people come, beside the pump-outs of the simulated technician.</summary>
    public IReadOnlyList<PlannedVisit> Visits { get; init; } = [];
}

/// <summary>What one use of a tool means.</summary>
/// <param name="Share">Share of boats that use the tool, 0 to 1; null takes the default of its kind.</param>
/// <param name="LitresPerBoat">Mean volume that a boat's use adds to the tank [L]; null takes the default of its kind.</param>
/// <param name="WattHours">Energy of one press [Wh]; null takes the default of its kind.</param>
public sealed record SimulatedToolUse(double? Share = null, double? LitresPerBoat = null, double? WattHours = null);

/// <summary>A day that differs from its weekday.</summary>
/// <param name="Date">The local date.</param>
/// <param name="Factor">What the weekday's traffic is multiplied with; positive.</param>
/// <param name="DayOff">Whether the technician stays at home.</param>
public sealed record SimulatedHoliday(DateOnly Date, double Factor, bool DayOff = true);

/// <summary>What can go wrong at a simulated station.</summary>
public enum FaultKind
{
    /// <summary>The tool has gone: it is not used.</summary>
    ToolMissing,

    /// <summary>Dirt gathers on the panel evenly from the start of the fault to its end.</summary>
    PanelSoiled,

    /// <summary>The radio is dead. With a logger card its reports arrive at the end; without one too, from the controller's memory.</summary>
    RadioOutage,

    /// <summary>The controller restarts: its running totals begin at nought.</summary>
    CounterRestart,
}

/// <summary>A fault with its time.</summary>
/// <param name="Kind">What goes wrong.</param>
/// <param name="Station">The station's code.</param>
/// <param name="From">The first instant.</param>
/// <param name="To">The first instant after it; null when only a visit ends it (or when it takes no time).</param>
/// <param name="Tool">The tool's slug, for a missing tool.</param>
/// <param name="LossPerDay">For a soiled panel: share of its power lost more each day, 0 to 1.</param>
/// <param name="Card">For a radio outage: a logger card is read at its end.</param>
public sealed record PlannedFault(
    FaultKind Kind,
    string Station,
    DateTimeOffset From,
    DateTimeOffset? To = null,
    string? Tool = null,
    double LossPerDay = 0,
    bool Card = false);

/// <summary>A person at a station, and what was done there.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="At">When the work was done.</param>
/// <param name="PumpOut">The tank was emptied.</param>
/// <param name="CleanPanel">The panel was cleaned: ends soiling.</param>
/// <param name="ReplaceTool">The slug of a tool that was brought: ends its being missing.</param>
/// <param name="ReadCard">The logger card was read.</param>
/// <param name="Note">What the person wrote.</param>
public sealed record PlannedVisit(
    string Station,
    DateTimeOffset At,
    bool PumpOut = false,
    bool CleanPanel = false,
    string? ReplaceTool = null,
    bool ReadCard = false,
    string? Note = null);
