using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

/// <summary>A station under watch: reports go in, time passes, and what the engine said is kept.</summary>
internal sealed class WatchedStation
{
    /// <summary>Monday 1 June 2026, 06:00 in America/Boise.</summary>
    public static readonly DateTimeOffset Start = new(2026, 6, 1, 12, 0, 0, TimeSpan.Zero);

    public static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    public static readonly TankSetup Drum = new(208.2, null, null);

    private readonly WatchEngine _engine;
    private readonly WatchHistory _history = new(null, [], []);

    public WatchedStation(StationSetup? setup = null)
    {
        Setup = setup ?? With();
        _engine = new WatchEngine(Setup, WatchState.StartingAt(Start), TimeSpan.FromMinutes(5));
        Now = Start;
    }

    public StationSetup Setup { get; }

    public DateTimeOffset Now { get; private set; }

    public List<WatchStep> Steps { get; } = [];

    public List<PumpOutSeen> PumpOuts { get; } = [];

    public IReadOnlyList<Problem> Problems { get; private set; } = [];

    public StationFacts Facts => _engine.State.Facts;

    public static StationSetup With(
        RuleSettings? rules = null, IReadOnlyList<QuietPeriod>? quiet = null, IReadOnlyList<ToolSetup>? tools = null, TimeSpan? reportEvery = null) =>
        new("COP-1", Boise, Start, reportEvery ?? TimeSpan.FromMinutes(15), tools ?? [Tool("brush"), Tool("vacuum")], TankHistory.Of(Drum), null, rules ?? RuleSettings.Default, quiet ?? []);

    public static ToolSetup Tool(string slug, DateTimeOffset? installed = null, double? idleAfterDays = null) =>
        new(slug, ToolKind.Other, slug, installed ?? Start, idleAfterDays);

    public static QuietPeriod Quiet(QuietReason reason, DateTimeOffset from, DateTimeOffset? to) => new(reason, from, to);

    /// <summary>A report arrives now, measured now.</summary>
    public WatchedStation Report(params (string Name, double Value)[] values) => Report(Now, values);

    /// <summary>A report arrives now, measured earlier.</summary>
    public WatchedStation Report(DateTimeOffset measured, params (string Name, double Value)[] values)
    {
        Run([new WatchReport(Now, [.. values.Select(value => new Measurement(value.Name, measured, value.Value))])]);
        return this;
    }

    /// <summary>A report arrives now, measured now, that promises the next reading within a time.</summary>
    public WatchedStation Promise(TimeSpan within, params (string Name, double Value)[] values)
    {
        Run([new WatchReport(Now, [.. values.Select(value => new Measurement(value.Name, Now, value.Value))]) { UpdateWithin = within }]);
        return this;
    }

    /// <summary>Time passes without a report.</summary>
    public WatchedStation Pass(TimeSpan time)
    {
        Now += time;
        Run([]);
        return this;
    }

    /// <summary>Time passes; the station says this every 15 minutes, and at the end.</summary>
    public WatchedStation PassSaying(TimeSpan time, params (string Name, double Value)[] values)
    {
        for (DateTimeOffset end = Now + time; Now < end;)
        {
            Pass(TimeSpan.FromMinutes(15)).Report(values);
        }

        return this;
    }

    public Problem? Find(Rule rule, string part = "") => Problems.SingleOrDefault(problem => problem.Rule == rule && problem.Part == part);

    private void Run(IReadOnlyList<WatchReport> reports)
    {
        WatchResult result = _engine.Run(reports, Now, _history);
        Steps.AddRange(result.Steps);
        PumpOuts.RemoveAll(seen => seen.At >= result.PumpOutsFrom);
        PumpOuts.AddRange(result.PumpOuts);
        Problems = result.Problems ?? Problems;
    }
}
