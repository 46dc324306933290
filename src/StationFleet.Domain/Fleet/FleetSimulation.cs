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

    /// <summary>How unruly boaters, weather, sensors and radio are.</summary>
    public SimulatedWorldKind World { get; init; }

    /// <summary>What the controller draws by day and night [W].</summary>
    public double BaseLoadWatts { get; init; } = 3;

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

/// <summary>How unruly a simulated world is.</summary>
public enum SimulatedWorldKind
{
    /// <summary>Habits are the same every day, sensors are good, and the radio fails seldom: the world of the demo.</summary>
    Plain,

    /// <summary>
    /// Habits differ by day, boat, season and event; rain comes in spells and there are quiet weeks; the tank's sensor sees false
    /// echoes; the radio drops out about every fourth day.
    /// </summary>
    Usual,

    /// <summary>The usual world with the effects of the day and the drift of habits doubled, and events on 15 % of weekend days.</summary>
    Harder,
}
