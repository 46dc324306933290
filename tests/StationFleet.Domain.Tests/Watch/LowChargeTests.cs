using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class LowChargeTests
{
    [Fact]
    public void A_low_charge_counts_after_an_hour_of_readings()
    {
        WatchedStation station = new();
        Say(station, minutes: 60, 0.45);
        station.Problems.Should().BeEmpty("the first low reading is three quarters of an hour old");

        Say(station, minutes: 15, 0.45);

        Problem low = station.Find(Rule.LowCharge)!;
        low.Urgency.Should().Be(Urgency.NeedsVisit);
        low.Evidence.Should().Be(new LowChargeEvidence(0.45, 0.50));
    }

    [Fact]
    public void A_dip_of_less_than_an_hour_is_nothing()
    {
        WatchedStation station = new();

        Say(station, minutes: 45, 0.45);
        Say(station, minutes: 15, 0.65);
        Say(station, minutes: 45, 0.45);

        station.Problems.Should().BeEmpty();
    }

    [Fact]
    public void A_station_that_falls_silent_during_the_delay_is_not_judged_by_its_last_word()
    {
        WatchedStation station = new();
        Say(station, minutes: 30, 0.45);

        station.Pass(TimeSpan.FromHours(2));

        station.Problems.Should().BeEmpty();
    }

    [Fact]
    public void The_charge_must_rise_ten_points_for_an_hour_to_clear()
    {
        WatchedStation station = new();
        Say(station, minutes: 75, 0.45);

        Say(station, minutes: 120, 0.59);
        station.Find(Rule.LowCharge)!.Urgency.Should().Be(Urgency.NeedsVisit, "59 % is inside the dead-band");

        Say(station, minutes: 75, 0.60);
        station.Find(Rule.LowCharge)!.Should().Match<Problem>(p => p.Urgency == Urgency.DueSoon && ((LowChargeEvidence)p.Evidence).LimitShare == 0.60);

        Say(station, minutes: 75, 0.70);
        station.Problems.Should().BeEmpty();
    }

    private static void Say(WatchedStation station, int minutes, double charge) =>
        station.PassSaying(TimeSpan.FromMinutes(minutes), ("battery/charge", charge));
}
