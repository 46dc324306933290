using StationFleet.Domain.Power;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>All that the engine remembers of a station between two runs.</summary>
public sealed class WatchState
{
    /// <summary>When the watch began: what lies before is not held against anybody.</summary>
    public DateTimeOffset WatchedFrom { get; set; }

    /// <summary>The last instant that was judged.</summary>
    public DateTimeOffset EvaluatedTo { get; set; }

    /// <summary>When the last report arrived; null before the first.</summary>
    public DateTimeOffset? LastHeard { get; set; }

    /// <summary>When its reports arrived.</summary>
    public ReportRhythm Rhythm { get; set; } = new();

    /// <summary>The setup by which the facts were folded; another one asks for a new fold of the last weeks.</summary>
    public string SetupKey { get; set; } = "";

    /// <summary>The visits and findings of the last weeks that the facts were folded with.</summary>
    public IReadOnlyList<ServiceMark> Service { get; set; } = [];

    /// <summary>What is known of the measurements.</summary>
    public StationFacts Facts { get; set; } = new();

    /// <summary>When the battery runs down, as last reckoned; null when that is not known.</summary>
    public ChargeForecast? Charge { get; set; }

    /// <summary>When the tank will be full, as a problem that is on tells it; null when none is on.</summary>
    public TankOutlook? Tank { get; set; }

    /// <summary>What has been alarmed.</summary>
    public IReadOnlyList<ProblemSlot> Slots { get; set; } = [];

    /// <summary>The state of a station that is watched from an instant on.</summary>
    /// <param name="from">The first instant is judged after it.</param>
    public static WatchState StartingAt(DateTimeOffset from) => new() { WatchedFrom = from, EvaluatedTo = from };
}

/// <summary>What was known at the start of a local day, by the order of measuring.</summary>
/// <param name="Day">The local day.</param>
/// <param name="AsOf">Its start: every measurement before it is in the facts.</param>
/// <param name="Facts">What was known.</param>
public sealed record FactsCheckpoint(DateOnly Day, DateTimeOffset AsOf, StationFacts Facts);

/// <summary>A report as the watch takes it in.</summary>
/// <param name="Received">When it arrived.</param>
/// <param name="Measurements">What it brought that was not known before, in any order.</param>
/// <param name="Ahead">How far its times lay in the future, when records were set aside for that; else null.</param>
public sealed record WatchReport(DateTimeOffset Received, IReadOnlyList<Measurement> Measurements, TimeSpan? Ahead = null)
{
    /// <summary>Within what time the station promised its next reading; null when it did not say.</summary>
    public TimeSpan? UpdateWithin { get; init; }

    /// <summary>How it came.</summary>
    public ReportSource Source { get; init; }
}

/// <summary>A problem that was serious enough for a ticket and has cleared.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Part">The part it was about.</param>
public readonly record struct ClearedProblem(Rule Rule, string Part);

/// <summary>One instant of judging at which there is something to decide about tickets.</summary>
/// <param name="At">The instant.</param>
/// <param name="Problems">The problems that need a visit.</param>
/// <param name="Cleared">The problems that needed one until now.</param>
public sealed record WatchStep(DateTimeOffset At, IReadOnlyList<Problem> Problems, IReadOnlyList<ClearedProblem> Cleared);

/// <summary>What a run of the engine found.</summary>
/// <param name="Taken">How many of the given reports were taken in; the others arrive after the run's end.</param>
/// <param name="Steps">The instants at which there is something to decide about tickets, in order.</param>
/// <param name="Problems">
/// The problems that are on at the end, due-soon ones included; null when there was no instant to judge: what was on still is.
/// </param>
/// <param name="Checkpoints">New and recomputed checkpoints, to be kept.</param>
/// <param name="PumpOuts">Pump-outs seen.</param>
/// <param name="FoldedAgainFrom">
/// The facts were rolled back to here: kept checkpoints from it on are replaced by these; null without a roll-back.
/// </param>
/// <param name="PumpOutsFrom">Pump-outs kept from this instant on are replaced by these; null without a roll-back.</param>
public sealed record WatchResult(
    int Taken,
    IReadOnlyList<WatchStep> Steps,
    IReadOnlyList<Problem>? Problems,
    IReadOnlyList<FactsCheckpoint> Checkpoints,
    IReadOnlyList<PumpOutSeen> PumpOuts,
    DateTimeOffset? FoldedAgainFrom,
    DateTimeOffset? PumpOutsFrom);
