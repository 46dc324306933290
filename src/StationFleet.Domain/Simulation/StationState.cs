namespace StationFleet.Domain.Simulation;

/// <summary>What a simulated station carries from one moment to the next.</summary>
internal sealed class StationState(DateTimeOffset started, int tools, double chargeShare)
{
    public DateTimeOffset Started { get; private set; } = started;

    public double TankLitres { get; set; }

    public double ChargeShare { get; set; } = chargeShare;

    /// <summary>The charge controller has cut the loads off an empty battery: no tools, no reports.</summary>
    public bool IsCutOff { get; set; }

    public long[] Counters { get; private init; } = new long[tools];

    public void Restart(DateTimeOffset at)
    {
        Started = at;
        Array.Clear(Counters);
    }

    public StationState Copy() =>
        new(Started, Counters.Length, ChargeShare) { TankLitres = TankLitres, Counters = [.. Counters], IsCutOff = IsCutOff };
}

/// <summary>The state of a station at a five-minute mark, with what flowed since the last one.</summary>
internal sealed record Sample(
    DateTimeOffset At,
    double TankLitres,
    double ChargeShare,
    double SolarWatts,
    double LoadWatts,
    double SunElevationDeg,
    double AirTempC,
    DateTimeOffset Started,
    long[] Counters,
    bool CountersMoved);
