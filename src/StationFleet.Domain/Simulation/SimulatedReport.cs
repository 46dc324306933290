using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Simulation;

/// <summary>One message of a simulated station.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Received">When it reaches the server.</param>
/// <param name="Measurements">What it holds, by time.</param>
public sealed record SimulatedReport(string Station, DateTimeOffset Received, IReadOnlyList<Measurement> Measurements);

/// <summary>What really happened on one local day at one station, which its reports only hint at.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Date">The local date.</param>
/// <param name="Access">The slug of the access where it stood (the day's last).</param>
/// <param name="Boats">Boats cleaned.</param>
/// <param name="Uses">Presses by tool.</param>
/// <param name="InflowLitres">What went into the tank [L].</param>
/// <param name="OverflowLitres">…and what ran over because it was full [L].</param>
/// <param name="TankLitres">What the tank held at the end of the day [L].</param>
/// <param name="ChargeShare">State of charge at the end of the day, 0 to 1.</param>
/// <param name="PumpOuts">When it was emptied, and of how much.</param>
/// <param name="ReportsLost">Reports that never arrive.</param>
public sealed record DayTruth(
    string Station,
    DateOnly Date,
    string Access,
    int Boats,
    IReadOnlyDictionary<string, int> Uses,
    double InflowLitres,
    double OverflowLitres,
    double TankLitres,
    double ChargeShare,
    IReadOnlyList<SimulatedPumpOut> PumpOuts,
    int ReportsLost)
{
    /// <summary>When each boat came, in order.</summary>
    public IReadOnlyList<DateTimeOffset> BoatsAt { get; init; } = [];

    /// <summary>What each of them brought into the tank, with what ran over [L].</summary>
    public IReadOnlyList<double> BoatLitres { get; init; } = [];

    /// <summary>Presses by tool when people who look after the station tried it; not in <see cref="Uses"/>.</summary>
    public IReadOnlyDictionary<string, int> ServiceUses { get; init; } = new Dictionary<string, int>();

    /// <summary>What leaked out of the tank [L].</summary>
    public double LeakLitres { get; init; }

    /// <summary>When the tank first ran over on this day; null when it did not.</summary>
    public DateTimeOffset? FullAt { get; init; }

    /// <summary>The lowest state of charge of the day, 0 to 1.</summary>
    public double LowestChargeShare { get; init; }

    /// <summary>What a clean, connected panel could have given through the day's clouds [Wh].</summary>
    public double SunWattHours { get; init; }

    /// <summary>What the panel as it was could have given [Wh].</summary>
    public double PanelWattHours { get; init; }

    /// <summary>What was taken from it: a full battery takes less than it could give [Wh].</summary>
    public double TakenWattHours { get; init; }

    /// <summary>What the station drew [Wh].</summary>
    public double LoadWattHours { get; init; }

    /// <summary>Whether rain kept boaters at home.</summary>
    public bool IsRainy { get; init; }
}

/// <summary>An emptied tank.</summary>
/// <param name="At">When.</param>
/// <param name="Litres">How much was taken out [L].</param>
public sealed record SimulatedPumpOut(DateTimeOffset At, double Litres);

/// <summary>A simulated local day: what happened, and the reports that tell of it.</summary>
/// <param name="Truth">What really happened; null when the station stood at no access or was laid up.</param>
/// <param name="Reports">Its reports by the time they were made; some are received days later.</param>
public sealed record SimulatedDay(DayTruth? Truth, IReadOnlyList<SimulatedReport> Reports);
