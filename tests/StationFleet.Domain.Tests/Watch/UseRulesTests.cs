using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.UseScene;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class UseRulesTests
{
    private static readonly string[] Both = ["brush", "vacuum"];
    private static readonly string[] Vacuum = ["vacuum"];

    [Fact]
    public void A_station_that_nobody_uses_although_sessions_were_expected_needs_a_visit()
    {
        UseScene scene = new();
        scene.Days(28, Sessions(8, Both));
        DateTimeOffset lastUse = scene.Facts.Sessions.LastAt!.Value;

        scene.Day();
        scene.Day();
        scene.Find(Rule.StationUnused)!.Urgency.Should().Be(Urgency.DueSoon, "about sixteen sessions are worth a phone call, not a drive");

        scene.Days(3);
        Problem unused = scene.Find(Rule.StationUnused)!;
        unused.Urgency.Should().Be(Urgency.NeedsVisit);
        StationUnusedEvidence evidence = (StationUnusedEvidence)unused.Evidence;
        evidence.Since.Should().Be(lastUse);
        evidence.ExpectedSessions.Should().BeApproximately(5 * 8, 8, "Monday to Friday of a station that is thought to be busier at weekends");
        scene.Problems.Should().ContainSingle("the tools are not idle: nobody passed them over");

        scene.Day(Sessions(1, Both));
        scene.Problems.Should().BeEmpty();
    }

    [Fact]
    public void After_a_dull_week_fewer_sessions_are_expected()
    {
        double Expected(int dullDays)
        {
            UseScene scene = new();
            scene.Days(24, Sessions(8, Both)).Days(dullDays, Sessions(1, Both)).Days(2);
            return StationUnused.Judge(scene.Facts, scene.Context, scene.Now)!.Value.Expected;
        }

        Expected(4).Should().BeLessThan(0.75 * Expected(0));
    }

    [Fact]
    public void An_event_that_keeps_boats_away_is_no_outage()
    {
        UseScene scene = new(With(tools: [Tool("brush"), Tool("vacuum")]) with
        {
            Events = [new KnownEvent("Fireworks on the dam", new DateOnly(2026, 6, 29), new DateOnly(2026, 7, 3), 0.05)],
        });
        scene.Days(28, Sessions(8, Both));

        scene.Days(3);

        scene.Find(Rule.StationUnused).Should().BeNull();
    }

    [Fact]
    public void A_station_of_which_little_is_known_is_never_called_unused()
    {
        UseScene scene = new();
        scene.Days(5, Sessions(8, Both));

        scene.Days(10);

        scene.Find(Rule.StationUnused).Should().BeNull();
    }

    [Fact]
    public void A_tool_that_works_half_is_told_as_falling_use_and_raises_no_ticket()
    {
        UseScene scene = new();
        scene.Days(30, Both, Both, Vacuum, Both, Both, Vacuum, Both, Both);

        int days = 0;
        while (scene.Find(Rule.FallingUse, "brush") is null)
        {
            scene.Day(Vacuum, Both, Vacuum, Vacuum, Vacuum, Vacuum, Both, Vacuum);
            (++days).Should().BeLessThan(21);
        }

        Problem falling = scene.Find(Rule.FallingUse, "brush")!;
        falling.Urgency.Should().Be(Urgency.DueSoon);
        ((FallingUseEvidence)falling.Evidence).UsualShare.Should().BeApproximately(0.75, 0.03, "what it used to be");
        scene.Steps.Should().BeEmpty();
    }

    [Fact]
    public void A_tool_that_counts_alone_for_half_an_hour_has_run_away()
    {
        UseScene scene = new();
        scene.Days(5, Sessions(4, Both));
        double brush = 40;
        scene.Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", brush), ("tools/vacuum/uses", 40));

        for (int i = 0; i < 5; i++)
        {
            scene.Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", ++brush), ("tools/vacuum/uses", 40));
        }

        scene.Problems.Should().BeEmpty("five readings in a row may be a long boat");
        scene.Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", ++brush), ("tools/vacuum/uses", 40));

        RunawayCounterEvidence evidence = (RunawayCounterEvidence)scene.Find(Rule.RunawayCounter, "brush")!.Evidence;
        evidence.Uses.Should().Be(6);
        (evidence.To - evidence.From).Should().Be(TimeSpan.FromMinutes(30));
    }

    [Fact]
    public void A_total_that_rises_faster_than_anybody_can_press_has_run_away_at_once_and_its_uses_are_no_sessions()
    {
        UseScene scene = new();
        scene.Days(5, Sessions(4, Both));
        double sessions = scene.Facts.Sessions.OnDay + scene.Facts.Sessions.Sessions;

        scene.Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", 40), ("tools/vacuum/uses", 40))
            .Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", 240), ("tools/vacuum/uses", 40));

        ((RunawayCounterEvidence)scene.Find(Rule.RunawayCounter, "brush")!.Evidence).Uses.Should().Be(200);
        (scene.Facts.Sessions.OnDay + scene.Facts.Sessions.Sessions).Should().Be(sessions);
    }

    [Fact]
    public void Two_totals_that_rise_too_fast_at_once_say_that_the_times_are_wrong_and_neither_has_run_away()
    {
        UseScene scene = new();
        scene.Days(5, Sessions(4, Both))
            .Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", 40), ("tools/vacuum/uses", 40))
            .Report(TimeSpan.FromMinutes(5), ("tools/brush/uses", 240), ("tools/vacuum/uses", 240));

        scene.Problems.Should().NotContain(problem => problem.Rule == Rule.RunawayCounter);
    }

    [Fact]
    public void A_station_far_from_its_access_has_moved_until_it_is_back()
    {
        StandingPlace place = new("Marina ramp", 44.40, -115.20, Start, null);
        UseScene scene = new(With(tools: [Tool("brush"), Tool("vacuum")]) with { Places = [place] });
        void Fix(double latitude) => scene.Report(TimeSpan.FromMinutes(15), ("lat", latitude), ("lon", -115.20));
        Fix(44.4001);
        Fix(44.42);
        Fix(44.42);
        scene.Problems.Should().BeEmpty("two fixes may be off");

        Fix(44.42);

        MovedEvidence moved = (MovedEvidence)scene.Find(Rule.Moved)!.Evidence;
        moved.AccessName.Should().Be("Marina ramp");
        moved.AwayMetres.Should().BeApproximately(2224, 1, "0.02° of latitude on the mean sphere");
        moved.LatitudeDeg.Should().Be(44.42);
        Fix(44.4001);
        scene.Problems.Should().BeEmpty();
    }

    [Fact]
    public void Reports_from_the_future_show_a_fast_clock()
    {
        WatchEngine engine = new(With(), WatchState.StartingAt(Start), TimeSpan.FromMinutes(5));
        WatchReport Ahead(int minutes) => new(Start.AddMinutes(minutes), [], TimeSpan.FromHours(7));

        engine.Run([Ahead(15)], Start.AddMinutes(15), WatchHistory.After(engine.State)).Problems.Should().BeEmpty();
        WatchResult second = engine.Run([Ahead(30)], Start.AddMinutes(30), WatchHistory.After(engine.State));

        second.Problems.Should().ContainSingle().Which.Evidence.Should().Be(new ClockWrongEvidence(25_200, Start.AddMinutes(30)));
    }

    [Fact]
    public void Reports_that_all_lie_behind_by_the_same_while_show_a_slow_clock_and_a_backlog_does_not()
    {
        WatchedStation slow = new();
        WatchedStation backlog = new();
        for (int quarter = 1; quarter <= 6; quarter++)
        {
            slow.Pass(TimeSpan.FromMinutes(15)).Report(slow.Now.AddHours(-2), ("battery/charge", 0.9));
            backlog.Pass(TimeSpan.FromMinutes(15)).Report(Start.AddMinutes(quarter), ("battery/charge", 0.9));
        }

        slow.Find(Rule.ClockWrong)!.Evidence.Should().Be(new ClockWrongEvidence(-7200, slow.Now));
        backlog.Problems.Should().BeEmpty();
    }
}
