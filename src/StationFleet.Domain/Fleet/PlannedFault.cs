namespace StationFleet.Domain.Fleet;

/// <summary>What can go wrong at a simulated station.</summary>
public enum FaultKind
{
    /// <summary>The tool has gone: it is not used.</summary>
    ToolMissing,

    /// <summary>Dirt lies on the panel: at once (<see cref="PlannedFault.Loss"/>), or gathering evenly until the fault's end.</summary>
    PanelSoiled,

    /// <summary>The radio is dead. With a logger card its reports arrive at the end; without one too, from the controller's memory.</summary>
    RadioOutage,

    /// <summary>The controller restarts: its running totals begin at nought.</summary>
    CounterRestart,

    /// <summary>The tool hangs there and does nothing: no use is counted, nothing flows.</summary>
    ToolDead,

    /// <summary>The tool works so badly that most boaters leave it.</summary>
    ToolWeak,

    /// <summary>The tool's switch sticks: its total rises by itself.</summary>
    CounterRunaway,

    /// <summary>The tank's sensor says the same for ever.</summary>
    TankFrozen,

    /// <summary>The tank's sensor drifts away.</summary>
    TankDrift,

    /// <summary>The tank's sensor jumps about.</summary>
    TankJumping,

    /// <summary>The tank leaks.</summary>
    TankLeak,

    /// <summary>Something has grown or been put up that shades the panel in the afternoons.</summary>
    PanelShaded,

    /// <summary>The panel gives nothing.</summary>
    PanelDisconnected,

    /// <summary>The battery holds only a part of what it is rated for.</summary>
    BatteryAged,

    /// <summary>Something draws power that should not.</summary>
    ExtraLoad,

    /// <summary>The whole station is without power: no tools, no measuring, no reports; the controller restarts at the end.</summary>
    SiteOutage,

    /// <summary>The controller's clock is wrong while the fault lasts.</summary>
    ClockJump,

    /// <summary>The tools' breaker is off: boats come, nothing can be used, and reports go on.</summary>
    StationUnused,

    /// <summary>The access is closed and nobody said so: no boats come, and reports go on.</summary>
    AccessClosed,

    /// <summary>A portable station has been taken elsewhere and nobody said so.</summary>
    PortableMoved,
}

/// <summary>A fault with its time.</summary>
/// <param name="Kind">What goes wrong.</param>
/// <param name="Station">The station's code.</param>
/// <param name="From">The first instant.</param>
/// <param name="To">The first instant after it; null when only a visit ends it (or when it takes no time).</param>
/// <param name="Tool">The tool's slug, for a fault of a tool.</param>
/// <param name="LossPerDay">For a soiled panel: share of its power lost more each day, 0 to 1.</param>
/// <param name="Card">For a radio outage: a logger card is read at its end.</param>
public sealed record PlannedFault(
    FaultKind Kind,
    string Station,
    DateTimeOffset From,
    DateTimeOffset? To = null,
    string? Tool = null,
    double LossPerDay = 0,
    bool Card = false)
{
    /// <summary>For a soiled or shaded panel: share of its power lost at once, 0 to 1.</summary>
    public double Loss { get; init; }

    /// <summary>For a weak tool the share of boaters who still use it, for an aged battery the share of its capacity that is left, 0 to 1.</summary>
    public double KeptShare { get; init; } = 0.4;

    /// <summary>For a runaway counter: counts an hour beside the true uses.</summary>
    public double CountsPerHour { get; init; } = 60;

    /// <summary>For a drifting tank sensor: share of the tank's capacity that it says more (or, negative, less) each day.</summary>
    public double DriftSharePerDay { get; init; } = 0.02;

    /// <summary>For a leak: what runs out [L/d].</summary>
    public double LitresPerDay { get; init; } = 8;

    /// <summary>For an extra load: what it draws [W].</summary>
    public double Watts { get; init; } = 6;

    /// <summary>For a wrong clock: how far it is ahead [s]; negative: behind.</summary>
    public double AheadSeconds { get; init; }

    /// <summary>For a radio outage: its reports never arrive.</summary>
    public bool Lost { get; init; }

    /// <summary>For a counter restart: only the totals begin anew, and the uptime goes on as if nothing had been.</summary>
    public bool KeepsUptime { get; init; }

    /// <summary>For a moved portable: the slug of the access where it really stands.</summary>
    public string? Access { get; init; }
}

/// <summary>A person at a station, and what was done there.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="At">When the work was done.</param>
/// <param name="PumpOut">The tank was emptied.</param>
/// <param name="CleanPanel">The panel was cleaned: ends soiling.</param>
/// <param name="ReplaceTool">The slug of a tool that was brought or mended: ends its faults.</param>
/// <param name="ReadCard">The logger card was read.</param>
/// <param name="Note">What the person wrote.</param>
public sealed record PlannedVisit(
    string Station,
    DateTimeOffset At,
    bool PumpOut = false,
    bool CleanPanel = false,
    string? ReplaceTool = null,
    bool ReadCard = false,
    string? Note = null)
{
    /// <summary>How often each tool was switched on to test it: service uses.</summary>
    public int TestUses { get; init; }

    /// <summary>What else was mended.</summary>
    public IReadOnlyList<FaultKind> Mends { get; init; } = [];

    /// <summary>Whether this visit ends a fault that began before it.</summary>
    /// <param name="fault">The fault.</param>
    public bool Ends(PlannedFault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return At >= fault.From && (Mends.Contains(fault.Kind) || fault.Kind switch
        {
            FaultKind.ToolMissing or FaultKind.ToolDead or FaultKind.ToolWeak or FaultKind.CounterRunaway => ReplaceTool == fault.Tool,
            FaultKind.PanelSoiled => CleanPanel,
            _ => false,
        });
    }
}
