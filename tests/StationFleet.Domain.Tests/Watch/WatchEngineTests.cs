using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class WatchEngineTests
{
    private static readonly TimeSpan Grid = TimeSpan.FromMinutes(5);

    [Fact]
    public void Running_once_after_a_stop_finds_the_same_as_running_all_the_time()
    {
        WatchReport[] reports = Week();
        DateTimeOffset end = Start + TimeSpan.FromDays(7);

        WatchEngine continuous = new(With(), WatchState.StartingAt(Start), Grid);
        List<WatchStep> steps = [];
        WatchHistory history = new(null, [], []);
        int next = 0;
        for (DateTimeOffset now = Start; now <= end; now += Grid)
        {
            WatchReport[] arrived = [.. reports.Skip(next).TakeWhile(report => report.Received <= now)];
            next += arrived.Length;
            steps.AddRange(continuous.Run(arrived, now, history).Steps);
        }

        WatchEngine stopped = new(With(), WatchState.StartingAt(Start), Grid);
        WatchResult atOnce = stopped.Run(reports, end, new WatchHistory(null, [], []));

        atOnce.Steps.Should().NotBeEmpty();
        Text(atOnce.Steps).Should().Be(Text(steps));
        WatchJson.Write(stopped.State).Should().Be(WatchJson.Write(continuous.State));
    }

    [Fact]
    public void A_state_written_and_read_between_runs_goes_on_as_one_engine()
    {
        WatchReport[] reports = Week();
        DateTimeOffset end = Start + TimeSpan.FromDays(7);
        WatchEngine whole = new(With(), WatchState.StartingAt(Start), Grid);
        WatchResult expected = whole.Run(reports, end, new WatchHistory(null, [], []));

        List<WatchStep> steps = [];
        WatchState state = WatchState.StartingAt(Start);
        WatchHistory everything = new(null, [], []);
        foreach (WatchReport[] part in reports.Chunk(50).Append([]))
        {
            WatchEngine engine = new(With(), WatchJson.Read<WatchState>(WatchJson.Write(state)), Grid);
            steps.AddRange(engine.Run(part, part.Length > 0 ? part[^1].Received : end, everything).Steps);
            state = engine.State;
        }

        Text(steps).Should().Be(Text(expected.Steps));
        WatchJson.Write(state).Should().Be(WatchJson.Write(whole.State));
    }

    [Fact]
    public void What_was_alarmed_is_not_taken_back_when_a_late_report_shows_that_it_was_wrong()
    {
        WatchedStation station = new(With(tools: [Tool("brush", idleAfterDays: 7), Tool("vacuum")]));
        station.Pass(Grid).Report(("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.PassSaying(TimeSpan.FromDays(7), ("tools/vacuum/uses", 40));
        DateTimeOffset raised = station.Find(Rule.IdleTool, "brush")!.Since;

        station.Pass(Grid).Report(Start + TimeSpan.FromDays(6), ("tools/brush/uses", 3));

        station.Steps.Should().Contain(step => step.At == raised, "people were told");
        station.Steps[^1].Should().Match<WatchStep>(step => step.At == station.Now && step.Cleared.Count == 1);
        station.Facts.Tools["tools/brush/uses"].LastUse.Should().Be(Start + TimeSpan.FromDays(6));
    }

    [Fact]
    public void Reports_from_the_future_of_the_run_wait()
    {
        WatchEngine engine = new(With(), WatchState.StartingAt(Start), Grid);
        WatchReport[] reports = [new(Start + Grid, []), new(Start + TimeSpan.FromHours(1), [])];

        WatchResult result = engine.Run(reports, Start + TimeSpan.FromMinutes(30), WatchHistory.After(engine.State));

        result.Taken.Should().Be(1);
        engine.State.LastHeard.Should().Be(Start + Grid);
    }

    [Fact]
    public void HistoryNeeded_asks_only_for_late_measurements_and_for_a_changed_setup()
    {
        WatchEngine engine = new(With(), WatchState.StartingAt(Start), Grid);
        WatchReport first = At(Start + TimeSpan.FromHours(1), Start + TimeSpan.FromHours(1));
        engine.HistoryNeeded([first]).Should().BeNull();
        engine.Run([first], first.Received, WatchHistory.After(engine.State));

        engine.HistoryNeeded([At(Start + TimeSpan.FromHours(2), Start + TimeSpan.FromHours(2))]).Should().BeNull();
        engine.HistoryNeeded([At(Start + TimeSpan.FromHours(2), Start + TimeSpan.FromMinutes(20))]).Should().Be(Start + TimeSpan.FromMinutes(20));

        StationSetup changed = With(quiet: [Quiet(QuietReason.AccessClosed, Start, Start + Grid)]);
        new WatchEngine(changed, engine.State, Grid).HistoryNeeded([]).Should().Be(first.Received - TimeSpan.FromDays(35));
    }

    [Fact]
    public void A_closing_that_is_entered_afterwards_takes_its_uses_out_of_the_facts()
    {
        WatchHistory history = new(null, [], []);
        WatchEngine before = new(With(), WatchState.StartingAt(Start), Grid);
        before.Run([Uses(0, 0), Uses(5, 10), Uses(10, 30)], Start + TimeSpan.FromHours(11), history);
        before.State.Facts.Sessions.LastAt.Should().BeAfter(Start + TimeSpan.FromHours(9));

        StationSetup changed = With(quiet: [Quiet(QuietReason.AccessClosed, Start + TimeSpan.FromHours(4), Start + TimeSpan.FromHours(6))]);
        WatchEngine after = new(changed, before.State, Grid);
        WatchResult result = after.Run([], Start + TimeSpan.FromHours(12), history);

        after.State.Facts.Sessions.LastAt.Should().BeNull("both gains may have been made while it was closed");
        result.FoldedAgainFrom.Should().Be(DateTimeOffset.MinValue);
        new WatchEngine(changed, after.State, Grid).HistoryNeeded([]).Should().BeNull();
    }

    [Fact]
    public void A_watch_that_begins_in_mid_season_holds_nothing_from_before_against_anybody()
    {
        DateTimeOffset begin = Start + TimeSpan.FromDays(40);
        WatchEngine engine = new(With(), WatchState.StartingAt(begin), Grid);
        WatchReport[] reports = [.. Enumerable.Range(1, 96).Select(quarter => Vacuum(begin + TimeSpan.FromMinutes(15 * quarter), quarter))];

        WatchResult result = engine.Run(reports, begin + TimeSpan.FromDays(1), new WatchHistory(null, [], []));

        result.Steps.Should().BeEmpty("neither a silence nor an idle brush can be known after a day");
        new WatchEngine(With(), WatchJson.Read<WatchState>(WatchJson.Write(engine.State)), Grid)
            .Run([], begin + TimeSpan.FromDays(1) + TimeSpan.FromHours(3.1), WatchHistory.After(engine.State)).Problems
            .Should().ContainSingle().Which.Should().Match<Problem>(problem => problem.Rule == Rule.NotReporting && problem.Urgency == Urgency.DueSoon);

        static WatchReport Vacuum(DateTimeOffset at, int uses) => new(at, [new Measurement("tools/vacuum/uses", at, uses)]);
    }

    [Fact]
    public void A_history_that_does_not_reach_back_far_enough_is_refused()
    {
        WatchEngine engine = new(With(), WatchState.StartingAt(Start), Grid);
        engine.Run([At(Start + Grid, Start + Grid)], Start + Grid, WatchHistory.After(engine.State));

        Action late = () => engine.Run([At(Start + (2 * Grid), Start)], Start + (2 * Grid), WatchHistory.After(engine.State));

        late.Should().Throw<InvalidOperationException>().WithMessage("The history reaches back to*");
    }

    private static WatchReport At(DateTimeOffset received, DateTimeOffset measured) =>
        new(received, [new Measurement("battery/charge", measured, 0.9)]);

    private static WatchReport Uses(int hour, double vacuum)
    {
        DateTimeOffset at = Start + TimeSpan.FromHours(hour) + Grid;
        return new WatchReport(at, [new Measurement("tools/brush/uses", at, 0), new Measurement("tools/vacuum/uses", at, vacuum)]);
    }

    // A week with a filling tank, a low battery, an outage whose reports come later in any order, and a long silence at its end.
    private static WatchReport[] Week()
    {
        Random random = new(20260601);
        List<WatchReport> reports = [];
        for (int quarter = 1; quarter < 6 * 96; quarter++)
        {
            DateTimeOffset at = Start + TimeSpan.FromMinutes(15 * quarter);
            bool isOutage = quarter is > 200 and < 240;
            DateTimeOffset received = (isOutage ? Start + TimeSpan.FromMinutes(15 * 240) : at).AddSeconds(random.Next(600));
            reports.Add(new WatchReport(received,
            [
                new Measurement("tank/fill", at, Math.Min(1, quarter * 0.002)),
                new Measurement("battery/charge", at, 0.75 - (0.3 * Math.Sin(quarter / 60.0))),
                new Measurement("tools/vacuum/uses", at, quarter / 3),
                new Measurement("tools/brush/uses", at, quarter / 7),
            ]));
        }

        return [.. reports.OrderBy(report => report.Received)];
    }

    private static string Text(IEnumerable<WatchStep> steps) => WatchJson.Write(steps.ToList());
}
