using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Service.Routes.RouteScene;

namespace StationFleet.Domain.Tests.Service.Routes;

public sealed class RoutePlanTests
{
    [Fact]
    public void A_day_is_told_with_its_times()
    {
        RoutePlan plan = Plan(AtSouthLanding(), AtDamRoad(), AtFerryCove());

        plan.Stops.Select(routed => routed.Stop.Stations[0]).Should().BeEquivalentTo("COP-1", "COP-2", "OTT-1");
        plan.DrivingMinutes.Should().Be(60, "out along the road and back");
        plan.Back.Should().Be(Morning.AddMinutes(60 + 25 + 45 + 40 + (3 * 5)));
        RouteWords.Headline(plan, Boise).Should().Be("Three stops, 1 h of driving, back at 11:05.");
        plan.Stops[0].Arrives.Should().Be(Morning.AddMinutes(plan.Stops[0].DrivingMinutes));
        plan.IsExact.Should().BeTrue();
    }

    [Fact]
    public void Several_problems_at_one_access_are_one_stop()
    {
        RouteNeed other = AtDamRoad(minutes: 40) with { Station = "PORT-A", Ticket = 121, Bring = ["spare: Drain-plug wrench", "lock and chain"] };

        RoutePlan plan = Plan(AtDamRoad(), AtDamRoad(minutes: 15) with { Ticket = 122 }, other);

        RoutedStop stop = plan.Stops.Should().ContainSingle().Subject;
        stop.Stop.Stations.Should().Equal("COP-1", "PORT-A");
        stop.Stop.Minutes.Should().Be(5 + 25 + 15 + 40, "people unpack once");
        plan.Bring.Select(thing => thing.Thing).Should().Equal("spare: Drain-plug wrench", "lock and chain");
        plan.Bring[0].Stations.Should().Equal("COP-1", "PORT-A");
    }

    [Fact]
    public void A_short_day_leaves_the_stop_that_can_wait_and_says_so()
    {
        RoutePlan plan = Plan(1.75, AtDamRoad(priority: RoutePriority.CanWait), AtFerryCove(priority: RoutePriority.Urgent));

        plan.Stops.Select(routed => routed.Stop.Stations[0]).Should().Equal("COP-2");
        LeftStop left = plan.Left.Should().ContainSingle().Subject;
        left.Why.Should().Be(LeftReason.DayTooShort);
        RouteWords.WhyLeft(left, plan, Boise).Should().Be("It takes 30 min there; with it the day would not end by 09:45, and it can wait.");
        RouteWords.Headline(plan, Boise).Should().Be("One stop, 40 min of driving, back at 09:30; one left for another day.");
    }

    [Fact]
    public void A_tank_that_is_full_at_nine_is_reached_before()
    {
        RoutePlan plan = Plan(AtDamRoad(), AtSouthLanding() with { Before = Morning.AddMinutes(35) });

        plan.Stops.Select(routed => routed.Stop.Stations[0]).Should().Equal("OTT-1", "COP-1");
        plan.Stops[0].Arrives.Should().BeOnOrBefore(Morning.AddMinutes(35));
    }

    [Fact]
    public void Who_comes_too_early_waits()
    {
        RoutedStop stop = Plan(AtDamRoad() with { NotBefore = Morning.AddHours(1) }).Stops[0];

        stop.Arrives.Should().Be(Morning.AddMinutes(10));
        stop.Begins.Should().Be(Morning.AddHours(1));
        stop.Leaves.Should().Be(Morning.AddHours(1).AddMinutes(30));
    }

    [Fact]
    public void A_time_that_is_over_makes_a_stop_urgent_rather_than_impossible()
    {
        RoutePlan plan = Plan(1, AtDamRoad(), AtFerryCove(minutes: 10, RoutePriority.CanWait) with { Before = Morning.AddHours(-2) });

        plan.Stops.Select(routed => routed.Stop.Stations[0]).Should().Equal("COP-2");
    }

    [Fact]
    public void A_stop_that_no_day_holds_says_why()
    {
        RoutePlan plan = Plan(1, AtSouthLanding(minutes: 90));

        plan.Left[0].Why.Should().Be(LeftReason.TooFar);
        RouteWords.WhyLeft(plan.Left[0], plan, Boise).Should().Be("It takes 1 h 35 min there and 1 h of driving, more than a day of 1 h.");
        RouteWords.Headline(plan, Boise).Should().Be("One stop to make, and none fits into the day.");
    }

    [Fact]
    public void Without_stops_nobody_has_to_drive() => RouteWords.Headline(Plan(), Boise).Should().Be("Nobody has to drive.");

    [Fact]
    public void Driving_is_reckoned_from_the_straight_line_unless_people_know_better()
    {
        // A degree of latitude is 111.195 km on the sphere: 111.195 · 1.4 / 55 h = 169.8 min.
        RoutePlace south = new("access/1", "South", 44, -115);
        RoutePlace north = new("access/2", "North", 45, -115);
        DrivingTimes driving = new(Settings, new Dictionary<(string, string), double> { [("access/2", "access/1")] = 120 });

        driving.Minutes(south, north).Should().BeApproximately(169.8, 0.1);
        driving.Minutes(north, south).Should().Be(120, "the way back is known by itself");
        driving.Minutes(north, north).Should().Be(0);
    }

    [Fact]
    public void Each_rule_has_its_time_and_its_things()
    {
        foreach (Rule rule in Enum.GetValues<Rule>())
        {
            RouteWork.Minutes(rule).Should().BeInRange(5, 120);
        }

        RouteWork.Bring(new IdleToolEvidence("Drain-plug wrench", null, Morning, 61, 900, null)).Should().Contain("spare: Drain-plug wrench");
        RouteWork.Bring(new TankFillingEvidence(0.8, 208, 20)).Should().Contain(["pump and hose", "sample kit"]);
    }

    [Fact]
    public void What_waits_for_a_week_has_waited_its_turn()
    {
        FallingUseEvidence slow = new("Hull brush", 0.4, 9);

        RouteWork.Priority(slow, TimeSpan.FromDays(1), isReopened: false).Should().Be(RoutePriority.CanWait);
        RouteWork.Priority(slow, TimeSpan.FromDays(8), isReopened: false).Should().Be(RoutePriority.Usual);
        RouteWork.Priority(new TankFillingEvidence(0.96, 208, 20), TimeSpan.Zero, isReopened: false).Should().Be(RoutePriority.Urgent);
    }
}
