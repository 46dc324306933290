using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>The figures behind a kind of world. All are invented; where they follow the project's reference simulations, no other source.</summary>
internal sealed record World
{
    private static readonly World Plain = new();

    private static readonly World Usual = new()
    {
        IsPlain = false,
        RainFactor = 0.25,
        QuietSpellChance = 0.01,
        EventChance = 0.06,
        EventLean = 1.0,
        StationLean = 0.3,
        DayLean = 0.25,
        ToolDayLean = 0.35,
        BoatLean = 0.5,
        DriftLean = 0.6,
        GapChance = 0.25,
        LateChance = 0.01,
        RepeatChance = 0.01,
        LevelNoiseShare = 0.005,
        FalseEchoChance = 0.008,
        BlockedPerDay = 0.15,
        MissingReadingChance = 0.03,
        FixNoiseDeg = 0.0001,
    };

    private static readonly World Harder = Usual with { EventChance = 0.15, DayLean = 0.5, ToolDayLean = 0.7, DriftLean = 1.2 };

    public bool IsPlain { get; private init; } = true;

    /// <summary>What rain leaves of a day's traffic.</summary>
    public double RainFactor { get; private init; } = 0.35;

    /// <summary>Chance that a quiet spell of 3 to 8 days begins on a day.</summary>
    public double QuietSpellChance { get; private init; }

    /// <summary>Chance of an event on a Saturday or Sunday.</summary>
    public double EventChance { get; private init; }

    // Standard deviations of habits, in logits, but for the drift, whose greatest amplitude is told.
    public double EventLean { get; private init; }

    public double StationLean { get; private init; }

    public double DayLean { get; private init; }

    public double ToolDayLean { get; private init; }

    public double BoatLean { get; private init; }

    public double DriftLean { get; private init; }

    /// <summary>Chance that a radio drop-out begins on a day.</summary>
    public double GapChance { get; private init; }

    /// <summary>Chance that a report arrives a quarter of an hour to two hours late.</summary>
    public double LateChance { get; private init; }

    /// <summary>Chance that a report is sent again because its answer was lost.</summary>
    public double RepeatChance { get; private init; }

    public double LevelNoiseShare { get; private init; } = 0.0015;

    /// <summary>Chance that a reading of the tank is a false echo.</summary>
    public double FalseEchoChance { get; private init; }

    /// <summary>How often a day something stands before the sensor for 10 to 35 minutes.</summary>
    public double BlockedPerDay { get; private init; }

    public double MissingReadingChance { get; private init; }

    public double FixNoiseDeg { get; private init; } = 0.00002;

    public static World Of(SimulatedWorldKind kind) => kind switch
    {
        SimulatedWorldKind.Plain => Plain,
        SimulatedWorldKind.Usual => Usual,
        _ => Harder,
    };
}
