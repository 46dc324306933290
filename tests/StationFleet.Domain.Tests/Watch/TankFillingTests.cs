using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class TankFillingTests
{
    private static readonly TimeSpan Quarter = TimeSpan.FromMinutes(15);

    [Fact]
    public void Two_readings_over_the_limit_in_a_row_raise_the_problem_and_one_does_not()
    {
        WatchedStation station = new();

        Say(station, 0.55, 0.81, 0.55, 0.62);
        station.Problems.Should().BeEmpty("no two readings in a row were over a limit");

        Say(station, 0.63);
        station.Find(Rule.TankFilling)!.Urgency.Should().Be(Urgency.DueSoon);

        Say(station, 0.80, 0.80);
        Problem full = station.Find(Rule.TankFilling)!;
        full.Urgency.Should().Be(Urgency.NeedsVisit);
        full.Since.Should().Be(station.Now);
        full.Evidence.Should().Be(new TankFillingEvidence(0.80, 208.2, null));
    }

    [Fact]
    public void The_problem_clears_only_two_readings_beyond_the_dead_band()
    {
        WatchedStation station = new();
        Say(station, 0.82, 0.82);

        Say(station, 0.76, 0.76, 0.74, 0.76, 0.74);
        station.Find(Rule.TankFilling)!.Urgency.Should().Be(Urgency.NeedsVisit, "75 % was not passed twice in a row");

        Say(station, 0.74);
        station.Find(Rule.TankFilling)!.Urgency.Should().Be(Urgency.DueSoon);
        station.Steps[^1].Cleared.Should().Equal(new ClearedProblem(Rule.TankFilling, ""));

        Say(station, 0.02, 0.02);
        station.Problems.Should().BeEmpty();
    }

    [Fact]
    public void Readings_from_before_a_quiet_period_are_no_evidence_after_it()
    {
        DateTimeOffset arrived = Start + TimeSpan.FromDays(3);
        WatchedStation station = new(With(quiet: [Quiet(QuietReason.InTransit, Start + TimeSpan.FromDays(1), arrived)]));
        Say(station, 0.85, 0.85);
        station.Problems.Should().ContainSingle();

        station.PassSaying(TimeSpan.FromDays(3) - 3 * Quarter, ("battery/charge", 0.9));
        station.PassSaying(TimeSpan.FromHours(1), ("battery/charge", 0.9));
        station.Problems.Should().BeEmpty("the tank was emptied before the move, as far as anybody knows");

        Say(station, 0.85);
        station.Problems.Should().BeEmpty();
        Say(station, 0.85);
        station.Find(Rule.TankFilling).Should().NotBeNull();
    }

    [Fact]
    public void A_station_without_a_tank_has_no_tank_problem()
    {
        WatchedStation station = new(With() with { Tank = TankHistory.None });

        Say(station, 0.9, 0.9, 0.9);

        station.Problems.Should().BeEmpty();
    }

    private static void Say(WatchedStation station, params double[] shares)
    {
        foreach (double share in shares)
        {
            station.Pass(Quarter).Report(("tank/fill", share));
        }
    }
}
