using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.UseScene;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class IdleToolTests
{
    private static readonly string[] Both = ["brush", "vacuum"];
    private static readonly string[] Vacuum = ["vacuum"];

    [Fact]
    public void A_tool_that_every_second_session_took_is_idle_after_some_days_without()
    {
        UseScene scene = Known();
        DateTimeOffset lastUse = scene.Facts.Tools["tools/brush/uses"].LastUse!.Value;

        int days = 0;
        while (scene.Find(Rule.IdleTool, "brush") is null)
        {
            scene.Day(Sessions(6, Vacuum));
            (++days).Should().BeLessThan(10);
        }

        days.Should().BeGreaterThan(1, "a day without proves little: habits differ from day to day");
        Problem idle = scene.Find(Rule.IdleTool, "brush")!;
        idle.Urgency.Should().Be(Urgency.NeedsVisit);
        IdleToolEvidence evidence = (IdleToolEvidence)idle.Evidence;
        evidence.LastUse.Should().Be(lastUse);
        evidence.PassedOver.Should().Be(6 * days);
        evidence.OneIn.Should().BeGreaterThan(1000);
        scene.Find(Rule.IdleTool, "vacuum").Should().BeNull();
    }

    [Fact]
    public void Judge_says_after_about_how_many_more_sessions_it_would_alarm()
    {
        UseScene scene = Known();
        scene.Day(Sessions(6, Vacuum));
        IdleVerdict verdict = IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!;

        int more = 0;
        while (scene.Find(Rule.IdleTool, "brush") is null)
        {
            scene.Day(Sessions(6, Vacuum));
            more += 6;
        }

        verdict.PassedOver.Should().Be(6);
        verdict.Share.Should().BeApproximately(0.5, 0.05);
        verdict.IsIdle.Should().BeFalse();
        verdict.MoreSessions.Should().BeInRange(more - 6, more, "the days to come were alike");
        verdict.DaysToAlarm.Should().BeApproximately(verdict.MoreSessions / 6.0, 0.3);
    }

    [Fact]
    public void A_larger_budget_of_false_alarms_alarms_earlier()
    {
        int Misses(double budget)
        {
            UseScene scene = Known(With(new RuleSettings { IdleFalseAlarms = budget }));
            return IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.MoreSessions;
        }

        Misses(0.5).Should().BeLessThan(Misses(0.05)).And.BeGreaterThan(5);
    }

    [Fact]
    public void A_run_of_misses_is_not_learned_before_the_next_use()
    {
        UseScene scene = Known();
        double Share() => IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.Share;
        double before = Share();

        scene.Days(3, Sessions(6, Vacuum));
        Share().Should().Be(before);

        scene.Day(Both);
        Share().Should().BeLessThan(before);
    }

    [Fact]
    public void An_idle_tool_clears_at_its_first_use()
    {
        UseScene scene = Idle();

        scene.Day(Both);

        scene.Find(Rule.IdleTool, "brush").Should().BeNull();
        scene.Steps.SelectMany(step => step.Cleared).Should().Equal(new ClearedProblem(Rule.IdleTool, "brush"));
    }

    [Fact]
    public void A_person_who_found_the_tool_fine_ends_the_run_and_makes_the_rule_slower()
    {
        UseScene scene = Idle();
        DateTimeOffset done = scene.Now;
        int Before(UseScene s) => IdleTool.Judge(s.Setup.Tools[0], s.Facts, s.Context, s.Now)!.MoreSessions;

        scene.Change(Found(scene.Setup, done, wasFine: true));
        scene.Day([Vacuum]);

        scene.Problems.Should().BeEmpty();
        IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.PassedOver.Should().Be(1);
        Before(scene).Should().BeGreaterThan(Before(Known()), "days scatter more here than was thought");
    }

    [Fact]
    public void A_mended_tool_does_not_learn_that_it_is_unpopular()
    {
        UseScene scene = Idle();
        double before = IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.Share;

        scene.Change(Found(scene.Setup, scene.Now, wasFine: false));
        scene.Day([Vacuum]);

        IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.Share.Should().Be(before);
    }

    [Fact]
    public void Service_uses_neither_count_nor_prove_a_tool_healthy()
    {
        UseScene scene = Idle();
        int passedOver = IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.PassedOver;
        DateTimeOffset eight = scene.Now.AddHours(2);
        scene.Change(scene.Setup with { Service = new ServiceLog([new UtcInterval(eight, eight.AddMinutes(40))], []) });

        scene.Day(Both);

        scene.Find(Rule.IdleTool, "brush").Should().NotBeNull();
        IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.PassedOver.Should().Be(passedOver);
    }

    [Fact]
    public void A_tool_that_nobody_knows_well_yet_does_not_alarm()
    {
        UseScene scene = new();
        scene.Day(Both);

        scene.Days(4, Sessions(5, Vacuum));

        scene.Problems.Should().BeEmpty("one use in twenty sessions may be all that it ever gets");
    }

    [Fact]
    public void A_plain_limit_of_days_stands_beside_the_statistics()
    {
        UseScene scene = new(With(tools: [Tool("vacuum", idleAfterDays: 3)]), "vacuum");
        scene.Days(2, Sessions(3, Vacuum));
        scene.Days(2);
        scene.Find(Rule.IdleTool, "vacuum").Should().BeNull();

        scene.Days(2);

        IdleToolEvidence evidence = (IdleToolEvidence)scene.Find(Rule.IdleTool, "vacuum")!.Evidence;
        evidence.OneIn.Should().BeNull();
        evidence.LimitDays.Should().Be(3);
    }

    [Fact]
    public void Sessions_in_a_quiet_period_are_no_evidence_and_the_run_begins_anew()
    {
        UseScene scene = Known();
        scene.Days(2, Sessions(6, Vacuum));
        scene.Change(scene.Setup with { Quiet = [Quiet(QuietReason.AccessClosed, scene.Now, scene.Now.AddDays(2))] });

        scene.Days(2, Sessions(6, Vacuum));
        scene.Day([Vacuum]);

        IdleTool.Judge(scene.Setup.Tools[0], scene.Facts, scene.Context, scene.Now)!.PassedOver.Should().Be(1);
    }

    [Fact]
    public void A_tool_does_not_become_idle_while_the_battery_needs_a_visit()
    {
        UseScene scene = Known();
        scene.Report(TimeSpan.FromHours(1), ("battery/charge", 0.3)).Report(TimeSpan.FromHours(2), ("battery/charge", 0.3));

        scene.Days(6, Sessions(6, Vacuum));

        scene.Problems.Should().ContainSingle().Which.Rule.Should().Be(Rule.LowCharge, "one cause is one ticket");
    }

    /// <summary>Forty days, of whose sessions every second took the brush.</summary>
    private static UseScene Known(StationSetup? setup = null) =>
        new UseScene(setup).Days(40, Vacuum, Both, Vacuum, Both, Vacuum, Both);

    private static UseScene Idle()
    {
        UseScene scene = Known();
        scene.Days(8, Sessions(6, Vacuum));
        scene.Find(Rule.IdleTool, "brush").Should().NotBeNull("the scene needs an idle brush");
        return scene;
    }

    private static StationSetup Found(StationSetup setup, DateTimeOffset at, bool wasFine) =>
        setup with { Service = new ServiceLog([], [new TicketFinding(Rule.IdleTool, "brush", at, wasFine)]) };
}
