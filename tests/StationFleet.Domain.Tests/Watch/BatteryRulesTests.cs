using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class BatteryRulesTests
{
    private static readonly PowerSetup Lithium = PowerScene.Agm with { Chemistry = BatteryChemistry.LithiumIronPhosphate };
    private static readonly Reader Reader = new(UnitSystem.UsCustomary, WatchedStation.Boise, WatchedStation.Start);

    [Fact]
    public void A_load_that_stays_on_is_told_after_two_nights_and_a_heater_in_one_night_is_not()
    {
        PowerScene scene = new();
        scene.PassDays(12);
        scene.LoadWatts = 12;
        scene.PassDays(1);
        scene.LoadWatts = 7;
        scene.PassDays(2);
        scene.Station.Find(Rule.ExtraLoad).Should().BeNull();

        scene.LoadWatts = 12;
        scene.PassDays(3);

        scene.Station.Find(Rule.ExtraLoad)!.Evidence.Should().Be(new ExtraLoadEvidence(12, 7));
        ProblemSentences.Sentence(new ExtraLoadEvidence(12, 7), Urgency.NeedsVisit, Reader).Should().Be(
            "At night it draws 12 W instead of the usual 7 W: 120 Wh more a day. Something stays on, or leaks.");
    }

    [Fact]
    public void A_load_that_a_person_found_in_order_becomes_the_usual()
    {
        DateTimeOffset looked = WatchedStation.Start.AddDays(16);
        PowerScene scene = new(service: new ServiceLog([], [new TicketFinding(Rule.ExtraLoad, "", looked, WasFine: true)]));
        scene.PassDays(12);
        scene.LoadWatts = 12;
        scene.PassDays(3.5);
        scene.Station.Find(Rule.ExtraLoad).Should().NotBeNull();

        scene.PassDays(20);

        scene.Station.Find(Rule.ExtraLoad).Should().BeNull();
    }

    [Fact]
    public void A_battery_that_falls_too_fast_at_night_is_aged_and_one_that_falls_as_rated_is_not()
    {
        // 7 W drawn from 1,200 Wh are 0.58 points an hour; from 500 Wh 1.4.
        PowerScene sound = new() { Charge = hour => 0.9 - (0.0058 * Since(hour)) };
        sound.PassDays(8);
        sound.Station.Find(Rule.AgedBattery).Should().BeNull();
        AgedBattery.HoldsWattHours(sound.Station.Facts).Should().BeApproximately(1200, 80);

        PowerScene aged = new() { Charge = hour => 0.9 - (0.014 * Since(hour)) };
        aged.PassDays(8);
        ((AgedBatteryEvidence)aged.Station.Find(Rule.AgedBattery)!.Evidence).HoldsWattHours.Should().BeApproximately(500, 40);
    }

    [Fact]
    public void Charge_is_told_from_the_rest_voltage_of_a_lead_acid_battery_that_reports_none()
    {
        PowerScene scene = new();
        scene.Station.Pass(TimeSpan.FromHours(20));
        scene.Station.PassSaying(TimeSpan.FromHours(5), ("battery/voltage", 12.20), ("battery/current", -0.6), ("load/power", 7));

        // AGM: 12.20 V at rest is 50 % by the maker's table.
        scene.Station.Facts.Charge!.Value.Value.Should().BeApproximately(0.5, 1e-9);
        scene.Station.Facts.Power.Source.Should().Be(ChargeSource.RestVoltage);
        ProblemSentences.Sentence(
            LowCharge.Evidence(scene.Station.Facts, 0.6)!, Urgency.DueSoon, Reader).Should().StartWith("The battery is at about 50 % by its rest voltage");
    }

    [Fact]
    public void Charge_is_not_told_from_a_voltage_under_load()
    {
        PowerScene scene = new();
        scene.Station.Pass(TimeSpan.FromHours(20));
        scene.Station.PassSaying(TimeSpan.FromHours(5), ("battery/voltage", 12.20), ("battery/current", -4), ("load/power", 48));

        scene.Station.Facts.Charge.Should().BeNull();
    }

    [Fact]
    public void Of_lithium_iron_phosphate_only_full_and_nearly_empty_are_told_from_the_voltage()
    {
        PowerScene scene = new(Lithium);
        scene.Station.PassSaying(TimeSpan.FromHours(1), ("battery/voltage", 13.2), ("battery/current", -0.6));
        scene.Station.Facts.Charge.Should().BeNull("its voltage is flat between");

        scene.Station.PassSaying(TimeSpan.FromHours(1), ("battery/voltage", 14.3), ("battery/current", 1.0));
        scene.Station.Facts.Charge!.Value.Value.Should().Be(1);

        scene.Station.PassSaying(TimeSpan.FromHours(2), ("battery/voltage", 12.2), ("battery/current", -0.6));
        scene.Station.Find(Rule.LowCharge)!.Urgency.Should().Be(Urgency.NeedsVisit);
        ProblemSentences.Sentence(scene.Station.Find(Rule.LowCharge)!.Evidence, Urgency.NeedsVisit, Reader).Should().StartWith("The battery is nearly empty by its voltage");
    }

    [Theory]
    [Source("US Army TM 5-1185, tables II and III: a discharged battery freezes at about −12 °C; alarmed 5 °C above")]
    [InlineData(0.0, -7, true)]
    [InlineData(0.0, -6, false)]
    [InlineData(0.5, -20, false)]
    [InlineData(0.5, -33, true)]
    public void A_discharged_lead_acid_battery_near_its_freezing_point_needs_a_visit(double charge, double celsius, bool isOn)
    {
        PowerScene scene = new();
        scene.Station.PassSaying(TimeSpan.FromHours(1), ("battery/charge", charge), ("battery/temperature", celsius), ("battery/current", -0.5));

        Problem? cold = scene.Station.Find(Rule.LowCharge, ColdBattery.Part);
        (cold is not null).Should().Be(isOn);
        if (cold is not null)
        {
            ProblemSentences.Title(cold.Evidence).Should().Be("Keep the battery from freezing");
        }
    }

    [Theory]
    [Source("A manual of an LFP battery (Alpha APL48-50LFP, table 4.3): no charging below 0 °C")]
    [InlineData(-1, 3, Urgency.NeedsVisit)]
    [InlineData(1, 3, Urgency.DueSoon)]
    [InlineData(3, 3, null)]
    [InlineData(-5, 1, null)]
    public void Lithium_iron_phosphate_must_not_be_charged_in_the_cold(double celsius, double amperes, Urgency? urgency)
    {
        PowerScene scene = new(Lithium);
        scene.Station.PassSaying(TimeSpan.FromHours(1), ("battery/charge", 0.6), ("battery/temperature", celsius), ("battery/current", amperes));

        scene.Station.Find(Rule.LowCharge, ColdBattery.Part)?.Urgency.Should().Be(urgency);
        (scene.Station.Find(Rule.LowCharge, ColdBattery.Part)?.Urgency).Should().Be(urgency);
    }

    [Fact]
    public void Degrees_are_said_in_the_readers_units()
    {
        ColdBatteryEvidence cold = new(BatteryChemistry.Agm, -6, IsOfAir: true, 0, -11.9);

        ProblemSentences.Sentence(cold, Urgency.NeedsVisit, Reader).Should().StartWith("The air is at 21 °F, and at 0 % charge the battery’s acid freezes at 11 °F.");
        ProblemSentences.Sentence(cold, Urgency.NeedsVisit, Reader with { Units = UnitSystem.Metric }).Should().StartWith("The air is at -6 °C");
    }

    // Hours since sunset, a quarter after nine in the evening, up to seven; none by day.
    private static double Since(double hour) => hour switch
    {
        >= 21 => hour - 21,
        < 7 => hour + 3,
        _ => 0,
    };
}
