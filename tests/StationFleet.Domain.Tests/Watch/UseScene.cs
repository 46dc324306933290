using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

/// <summary>A station that boats use day by day, told in readings of every five minutes from six to ten in the evening.</summary>
internal sealed class UseScene
{
    private readonly SortedDictionary<string, double> _totals;
    private readonly WatchHistory _history = new(null, [], []);
    private WatchEngine _engine;
    private DateTimeOffset _now = WatchedStation.Start;

    public UseScene(StationSetup? setup = null, params string[] tools)
    {
        string[] slugs = tools.Length > 0 ? tools : ["brush", "vacuum"];
        Setup = setup ?? WatchedStation.With(tools: [.. slugs.Select(slug => WatchedStation.Tool(slug))]);
        _totals = new SortedDictionary<string, double>(slugs.ToDictionary(slug => slug, _ => 0.0), StringComparer.Ordinal);
        _engine = new WatchEngine(Setup, WatchState.StartingAt(_now), TimeSpan.FromMinutes(5));
    }

    public StationSetup Setup { get; private set; }

    public DateTimeOffset Now => _now;

    public IReadOnlyList<Problem> Problems { get; private set; } = [];

    public List<WatchStep> Steps { get; } = [];

    public StationFacts Facts => _engine.State.Facts;

    public FactsContext Context => new(Setup, WatchedStation.Start);

    /// <summary>Goes on with another setup: a ticket closed, a visit entered.</summary>
    public void Change(StationSetup setup)
    {
        Setup = setup;
        _engine = new WatchEngine(setup, _engine.State, TimeSpan.FromMinutes(5));
    }

    /// <summary>One day passes. Sessions come every half hour from 08:00; each uses the tools that it names.</summary>
    public UseScene Day(params string[][] sessions)
    {
        List<Measurement> measured = [];
        DateTimeOffset six = _now;
        for (int step = 1; step <= 16 * 12; step++)
        {
            DateTimeOffset at = six.AddMinutes(5 * step);
            int sinceEight = (5 * step) - 120;
            if (sinceEight > 0 && sinceEight % 30 == 5 && sinceEight / 30 < sessions.Length)
            {
                foreach (string tool in sessions[sinceEight / 30])
                {
                    _totals[tool] += 2;
                }
            }

            measured.AddRange(_totals.Select(total => new Measurement(MeasurementName.Uses(total.Key), at, total.Value)));
            if (step % 3 == 0)
            {
                Run(new WatchReport(at, [.. measured]), at);
                measured.Clear();
            }
        }

        // Through the night the station says that it is there.
        for (int quarter = 1; quarter <= 32; quarter++)
        {
            DateTimeOffset at = six.AddHours(16).AddMinutes(15 * quarter);
            Run(new WatchReport(at, [.. _totals.Select(total => new Measurement(MeasurementName.Uses(total.Key), at, total.Value))]), at);
        }

        _now = six.AddDays(1);
        return this;
    }

    public UseScene Days(int count, params string[][] sessions)
    {
        for (int i = 0; i < count; i++)
        {
            Day(sessions);
        }

        return this;
    }

    /// <summary>A report of one instant.</summary>
    public UseScene Report(TimeSpan after, params (string Name, double Value)[] values)
    {
        _now += after;
        Run(new WatchReport(_now, [.. values.Select(value => new Measurement(value.Name, _now, value.Value))]), _now);
        return this;
    }

    public Problem? Find(Rule rule, string part = "") => Problems.SingleOrDefault(problem => problem.Rule == rule && problem.Part == part);

    public static string[][] Sessions(int count, params string[] tools) => [.. Enumerable.Repeat(tools, count)];

    private void Run(WatchReport report, DateTimeOffset until)
    {
        WatchResult result = _engine.Run([report], until, _history);
        Problems = result.Problems ?? Problems;
        Steps.AddRange(result.Steps);
    }
}
