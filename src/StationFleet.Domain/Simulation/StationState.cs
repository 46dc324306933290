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

    /// <summary>What a frozen tank sensor goes on saying [L]; null while it works.</summary>
    public double? FrozenLitres { get; set; }

    public void Restart(DateTimeOffset at, bool keepsUptime = false)
    {
        Started = keepsUptime ? Started : at;
        Array.Clear(Counters);
    }

    public StationState Copy() =>
        new(Started, Counters.Length, ChargeShare)
        {
            TankLitres = TankLitres, Counters = [.. Counters], IsCutOff = IsCutOff, FrozenLitres = FrozenLitres,
        };
}

/// <summary>
/// The state of a station at a five-minute mark, with what flowed since the last one. The tank's litres are what its sensor sees
/// before noise; when it is frozen, not even noise moves it.
/// </summary>
internal sealed record Sample(
    DateTimeOffset At,
    double TankLitres,
    bool TankFrozen,
    double ChargeShare,
    double SolarWatts,
    double LoadWatts,
    double SunElevationDeg,
    double AirTempC,
    DateTimeOffset Started,
    long[] Counters,
    bool CountersMoved);
