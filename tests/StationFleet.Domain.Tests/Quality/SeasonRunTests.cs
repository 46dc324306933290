using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Quality;

public sealed class SeasonRunTests
{
    // The popular brush dies in this tuning season.
    private static readonly QualitySeason Season = QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Middling).First(season =>
        QualityWorld.Of(season, SimulatedWorldKind.Usual).Simulation!.Faults.Any(fault => fault is { Kind: FaultKind.ToolDead, Tool: "brush" }));

    private static readonly SeasonOutcome Mended = SeasonRun.Of(Season, SimulatedWorldKind.Usual, QualityPeople.Technician);

    [Fact]
    public void A_dead_tool_is_told_of_and_mended_a_day_later()
    {
        QualityFault brush = Mended.Faults.Single(fate => fate.Fault.Tool == "brush");

        brush.Told.Should().NotBeNull();
        brush.Hours.Should().BeApproximately((brush.Told!.Value - brush.Fault.From).TotalHours, 1e-9);
        brush.Fault.To.Should().Be(brush.Told.Value.AddHours(24).AddMinutes(-15));
        brush.Sessions.Should().BePositive();
        Mended.Notices.Should().ContainSingle(notice => notice.Rule == Rule.IdleTool && notice.At == brush.Told).Which.IsTrue.Should().BeTrue();
    }

    [Fact]
    public void Where_nobody_closes_the_tool_stays_dead_and_is_told_of_once()
    {
        SeasonOutcome alone = SeasonRun.Of(Season, SimulatedWorldKind.Usual, QualityPeople.Nobody);

        alone.Faults.Single(fate => fate.Fault.Tool == "brush").Fault.To.Should().BeNull();
        alone.Notices.Count(notice => notice is { Rule: Rule.IdleTool, Part: "brush", IsTicket: true, IsTrue: true }).Should().Be(1);
    }

    [Fact]
    public void The_same_season_comes_out_the_same() =>
        SeasonRun.Of(Season, SimulatedWorldKind.Usual, QualityPeople.Technician).Should().BeEquivalentTo(Mended);

    [Fact]
    public void At_each_midnight_the_trial_stands_there()
    {
        List<DateTimeOffset> nights = [];
        SeasonRun.Of(Season, SimulatedWorldKind.Usual, QualityPeople.Nobody, (trial, day) =>
        {
            nights.Add(trial.State.EvaluatedTo);
            LocalCalendar.DateOf(trial.State.EvaluatedTo.AddMinutes(-1), TimeZoneInfo.FindSystemTimeZoneById("America/Boise")).Should().Be(day.Date);
        });

        nights.Should().HaveCount(200).And.BeInAscendingOrder();
    }

    [Fact]
    public void Every_fault_is_either_some_rules_or_nobodys()
    {
        Enum.GetValues<FaultKind>().Where(kind => FaultRules.ExpectedOf(kind).Count == 0).Should().Equal(FaultKind.CounterRestart);
        PlannedFault dead = new(FaultKind.ToolDead, "Q-1", DateTimeOffset.UnixEpoch, DateTimeOffset.UnixEpoch.AddDays(2), "brush");

        FaultRules.Explains(dead, Rule.IdleTool, "brush", dead.From.AddDays(1)).Should().BeTrue();
        FaultRules.Explains(dead, Rule.IdleTool, "wrench", dead.From.AddDays(1)).Should().BeFalse();
        FaultRules.Explains(dead, Rule.IdleTool, "brush", dead.From.AddMinutes(-1)).Should().BeFalse();
        FaultRules.Explains(dead, Rule.IdleTool, "brush", dead.From.AddDays(3)).Should().BeFalse();
        FaultRules.Explains(dead, Rule.RunawayCounter, "brush", dead.From.AddDays(1)).Should().BeFalse();
    }

    [Fact]
    public void A_plain_limit_counts_the_gaps_between_uses()
    {
        FixedLimits limits = FixedLimits.Of(Season, SimulatedWorldKind.Usual);

        limits.DeadTool.Should().Be("brush");
        limits.FalseAlarms("wrench", 24).Should().BeGreaterThan(limits.FalseAlarms("wrench", 72));
        limits.FalseAlarms("wrench", 24 * 100).Should().Be(0);
        limits.DelayHours(24 * 7).Should().BeInRange(100, 168);
        limits.DelayHours(24 * 300).Should().Be(double.PositiveInfinity);
        limits.DelayHours(0.01).Should().Be(0, "such a limit alarms before the tool dies");
    }

    [Fact]
    public void A_score_says_per_rule_what_was_found_and_what_was_false()
    {
        DateTimeOffset from = new(2026, 6, 1, 0, 0, 0, TimeSpan.Zero);
        PlannedFault dead = new(FaultKind.ToolDead, "Q-1", from, Tool: "brush");
        QualitySeason[] seasons = [.. QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Quiet).Take(2)];
        SeasonOutcome healthy = new(seasons[0], [new(Rule.IdleTool, "wrench", from, IsTicket: true, IsTrue: false)], [], FullTanks: 1, WarnedTanks: 1);
        SeasonOutcome faulty = new(
            seasons[1],
            [new(Rule.IdleTool, "brush", from.AddHours(40), IsTicket: true, IsTrue: true), new(Rule.TankFilling, "", from, IsTicket: false, IsTrue: false)],
            [new QualityFault(dead, from.AddHours(40), 40, 12, IsMendedOtherwise: false)],
            FullTanks: 1,
            WarnedTanks: 0);

        QualityScore score = QualityScore.Of(
            [healthy, faulty], [FixedLimits.Of(seasons[0], SimulatedWorldKind.Usual), FixedLimits.Of(Season, SimulatedWorldKind.Usual)]);

        RuleScore idle = score.Rules.Single(rule => rule.Rule == "IdleTool");
        (idle.Faults, idle.Found!.Value.Value, idle.Hours.Value, idle.Sessions.Value).Should().Be((1, 1.0, 40.0, 12.0));
        (idle.FalseHealthy.Value, idle.FalseAll.Value).Should().Be((1.0, 0.5));
        score.Rules.Single(rule => rule.Rule == "TankFilling").FalseAll.Value.Should().Be(0, "what is only worth knowing is no ticket");
        score.Tools.Single(tool => tool.Tool == "wrench").LimitFalse.Should().BeLessThanOrEqualTo(1);
        score.WarnedTanks!.Value.Value.Should().Be(0.5);
        QualityTable.Write(score).Should().Contain("| Idle tool | 1 | 100 % (3–100) | 40 (0–never) |");
    }
}
