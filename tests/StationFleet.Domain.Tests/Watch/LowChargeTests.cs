using StationFleet.Domain.Power;
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

    [Fact]
    public void A_battery_that_will_be_low_before_somebody_can_come_needs_a_visit_now()
    {
        // Each day it falls by 5 points: 59 % are two days over the limit.
        PowerScene scene = new(rules: RuleSettings.Default with { ChargeSoonShare = 0.52 });
        scene.PanelShare = 0.14;
        scene.LoadWatts = 10;
        DateTimeOffset began = scene.Station.Now;
        scene.Charge = _ => 0.95 - (0.05 * (scene.Station.Now - began).TotalDays);
        scene.PassDays(5);
        scene.Station.Find(Rule.LowCharge).Should().BeNull();

        scene.PassDays(2.5);

        Problem low = scene.Station.Find(Rule.LowCharge)!;
        low.Urgency.Should().Be(Urgency.NeedsVisit);
        LowChargeEvidence evidence = (LowChargeEvidence)low.Evidence;
        evidence.ChargeShare.Should().BeGreaterThan(0.52, "that is before either limit");
        evidence.Forecast!.WithinResponse.Should().BeGreaterThanOrEqualTo(LowCharge.RaiseFrom);
        evidence.Forecast.Early.Should().BeAfter(low.Since);
    }

    [Fact]
    public void The_sentence_gives_the_window_in_parts_of_the_day()
    {
        DateTimeOffset now = WatchedStation.Start;
        Reader reader = new(Domain.Quantities.UnitSystem.UsCustomary, WatchedStation.Boise, now);
        ChargeForecast forecast = new(now, 0.58, 0.5, 0.55, 0.7, now.AddHours(20), now.AddHours(44), now.AddHours(62));

        ProblemSentences.Sentence(new LowChargeEvidence(0.58, 0.5, Forecast: forecast), Urgency.NeedsVisit, reader).Should().Be(
            "The battery is at 58 %. That it falls under 50 % within three days is more likely than not: "
            + "between Tuesday night and Wednesday evening (80 %), most likely Wednesday night.");
        ProblemSentences.Sentence(
            new LowChargeEvidence(0.58, 0.5, Forecast: forecast with { WithinThreeDays = 0.3, Likeliest = null, Late = null }), Urgency.DueSoon, reader).Should().Be(
            "The battery is at 58 %. That it falls under 50 % within three days is possible: hardly before Tuesday night.");
    }

    private static void Say(WatchedStation station, int minutes, double charge) =>
        station.PassSaying(TimeSpan.FromMinutes(minutes), ("battery/charge", charge));
}
