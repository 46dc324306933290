using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class IdleToolTests
{
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    [Fact]
    public void A_tool_is_idle_after_its_days_when_the_others_were_used()
    {
        WatchedStation station = new();
        station.Report(("tools/brush/uses", 10), ("tools/vacuum/uses", 10));
        station.Pass(TimeSpan.FromHours(1)).Report(("tools/brush/uses", 11), ("tools/vacuum/uses", 10));
        DateTimeOffset lastUse = station.Now;
        station.PassSaying(7 * Day - TimeSpan.FromMinutes(15), ("tools/brush/uses", 11), ("tools/vacuum/uses", 40));
        station.Find(Rule.IdleTool, "brush").Should().BeNull("a quarter of an hour is missing");

        station.Pass(TimeSpan.FromMinutes(15));

        Problem idle = station.Find(Rule.IdleTool, "brush")!;
        idle.Urgency.Should().Be(Urgency.NeedsVisit);
        idle.Since.Should().Be(lastUse + 7 * Day);
        idle.Evidence.Should().Be(new IdleToolEvidence("brush", lastUse, lastUse, 30));
        station.Find(Rule.IdleTool, "vacuum").Should().BeNull("it was used, and the brush was not");
    }

    [Fact]
    public void A_tool_is_not_idle_when_the_others_rested_too()
    {
        WatchedStation station = new();
        station.Report(("tools/brush/uses", 10), ("tools/vacuum/uses", 10));

        station.PassSaying(8 * Day, ("tools/brush/uses", 10), ("tools/vacuum/uses", 29));
        station.Problems.Should().BeEmpty("nineteen uses of the other tool are one too few");

        station.PassSaying(TimeSpan.FromMinutes(15), ("tools/brush/uses", 10), ("tools/vacuum/uses", 30));
        station.Find(Rule.IdleTool, "brush").Should().NotBeNull();
    }

    [Fact]
    public void An_idle_tool_clears_at_its_first_use()
    {
        WatchedStation station = Idle();

        station.PassSaying(TimeSpan.FromMinutes(15), ("tools/brush/uses", 1), ("tools/vacuum/uses", 40));

        station.Problems.Should().BeEmpty();
        station.Steps[^1].Cleared.Should().Equal(new ClearedProblem(Rule.IdleTool, "brush"));
    }

    [Fact]
    public void A_tool_has_its_own_limit_before_the_stations()
    {
        WatchedStation station = new(With(tools: [Tool("brush", idleAfterDays: 2), Tool("vacuum")]));
        station.Report(("tools/brush/uses", 0), ("tools/vacuum/uses", 0));

        station.PassSaying(2 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 40));

        station.Find(Rule.IdleTool, "brush").Should().NotBeNull();
    }

    [Fact]
    public void Silence_and_the_others_uses_count_from_the_installation_of_a_tool()
    {
        DateTimeOffset installed = Start + 5 * Day;
        WatchedStation station = new(With(tools: [Tool("brush", installed), Tool("vacuum")]));
        station.Report(("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.PassSaying(4 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 100));
        station.PassSaying(2 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 100));
        station.PassSaying(6 * Day - TimeSpan.FromMinutes(15), ("tools/brush/uses", 0), ("tools/vacuum/uses", 130));
        station.Problems.Should().BeEmpty();

        station.PassSaying(TimeSpan.FromMinutes(15), ("tools/brush/uses", 0), ("tools/vacuum/uses", 130));

        station.Find(Rule.IdleTool, "brush")!.Evidence.Should().Be(new IdleToolEvidence("brush", null, installed, 30));
    }

    [Fact]
    public void A_tool_does_not_become_idle_while_the_station_is_silent()
    {
        WatchedStation station = new();
        station.Report(("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.PassSaying(6 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 40));

        station.Pass(2 * Day);

        station.Problems.Should().ContainSingle().Which.Rule.Should().Be(Rule.NotReporting);
    }

    [Fact]
    public void A_restarted_counter_is_use_when_it_stands_above_nought()
    {
        WatchedStation station = Idle();

        station.Pass(TimeSpan.FromMinutes(15)).Report(("controller/uptime", 60), ("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.Find(Rule.IdleTool, "brush").Should().NotBeNull("a restart alone is no use");

        station.Pass(TimeSpan.FromMinutes(15)).Report(("controller/uptime", 960), ("tools/brush/uses", 1), ("tools/vacuum/uses", 0));
        station.Problems.Should().BeEmpty();
    }

    [Fact]
    public void Uses_in_a_quiet_period_are_no_evidence_and_silence_counts_from_its_end()
    {
        DateTimeOffset reopened = Start + 20 * Day;
        WatchedStation station = new(With(quiet: [Quiet(QuietReason.AccessClosed, Start + 5 * Day, reopened)]));
        station.Report(("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.PassSaying(6 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 15));
        station.PassSaying(13 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 200));
        station.PassSaying(1 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 200));
        station.Problems.Should().BeEmpty();

        station.PassSaying(1 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 225));
        station.PassSaying(6 * Day - TimeSpan.FromMinutes(15), ("tools/brush/uses", 0), ("tools/vacuum/uses", 225));
        station.Problems.Should().BeEmpty("seven days since the reopening are not over");

        station.PassSaying(TimeSpan.FromMinutes(15), ("tools/brush/uses", 0), ("tools/vacuum/uses", 225));
        station.Find(Rule.IdleTool, "brush")!.Evidence.Should().Be(new IdleToolEvidence("brush", null, reopened, 25));
    }

    private static WatchedStation Idle()
    {
        WatchedStation station = new();
        station.Report(("controller/uptime", 5000), ("tools/brush/uses", 0), ("tools/vacuum/uses", 0));
        station.PassSaying(7 * Day, ("tools/brush/uses", 0), ("tools/vacuum/uses", 40));
        station.Find(Rule.IdleTool, "brush").Should().NotBeNull("the scene needs an idle brush");
        return station;
    }
}
