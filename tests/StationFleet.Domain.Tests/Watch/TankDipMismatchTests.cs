using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class TankDipMismatchTests
{
    private static readonly DateTimeOffset Dipped = Start + TimeSpan.FromHours(3);

    [Fact]
    public void A_stick_that_reads_far_off_the_sensor_raises_a_ticket_and_one_that_is_near_does_not()
    {
        Run(With() with { Dips = [Dip(Dipped, 0.049)] }).Find(Rule.TankSensor, "dip").Should().BeNull("4.9 % is not more than 5 %");

        Problem apart = Run(With() with { Dips = [Dip(Dipped, 0.06)] }).Find(Rule.TankSensor, "dip")!;

        apart.Urgency.Should().Be(Urgency.NeedsVisit);
        apart.Evidence.Should().BeOfType<TankDipEvidence>().Which.At.Should().Be(Dipped);
        Run(With() with { Dips = [Dip(Dipped, -0.06)] }).Find(Rule.TankSensor, "dip").Should().NotBeNull("too low is as wrong as too high");
    }

    [Fact]
    public void A_later_dip_that_agrees_clears_it() =>
        Run(With() with { Dips = [Dip(Dipped, 0.09), Dip(Dipped.AddHours(5), 0.01)] }).Problems.Should().BeEmpty();

    [Fact]
    public void Who_has_seen_to_it_is_not_asked_again_for_the_same_dip()
    {
        ServiceLog seenTo = new([], [new TicketFinding(Rule.TankSensor, "dip", Dipped.AddHours(2), WasFine: false)]);

        Run(With() with { Dips = [Dip(Dipped, 0.09)], Service = seenTo }).Problems.Should().BeEmpty();
        Run(With() with { Dips = [Dip(Dipped, 0.09), Dip(Dipped.AddHours(4), 0.09)], Service = seenTo }).Find(Rule.TankSensor, "dip").Should().NotBeNull();
    }

    [Fact]
    public void A_calibration_after_the_dip_settles_it()
    {
        LevelCalibration calibration = new(MeasurementName.TankFill, Dipped.AddHours(1), new CalibrationPoint(0, 0), new CalibrationPoint(1, 0.9));
        TankHistory calibrated = new(TankHistory.Of(Drum).Tanks, [calibration]);

        Run(With() with { Tank = calibrated, Dips = [Dip(Dipped, 0.09)] }).Problems.Should().BeEmpty();
    }

    [Fact]
    public void A_dip_from_before_a_quiet_period_is_not_taken_up_after_it()
    {
        StationSetup moved = With(quiet: [Quiet(QuietReason.InTransit, Dipped.AddHours(1), Dipped.AddHours(4))]) with { Dips = [Dip(Dipped, 0.09)] };

        Run(moved).Problems.Should().BeEmpty();
    }

    [Fact]
    public void The_sentence_names_day_and_both_volumes()
    {
        TankDipEvidence evidence = new(
            new DateTimeOffset(2026, 7, 3, 16, 0, 0, TimeSpan.Zero), 38 * Units.LitresPerUsGallon, 43 * Units.LitresPerUsGallon, 55 * Units.LitresPerUsGallon);
        Reader reader = new(UnitSystem.UsCustomary, Boise, new DateTimeOffset(2026, 7, 8, 13, 0, 0, TimeSpan.Zero));

        ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, reader)
            .Should().Be("The dip at the pump-out on 3 July read 38 gal, the sensor 43 gal: 9 % of the tank apart.");
    }

    [Fact]
    public void A_new_calibration_is_no_pump_out_and_no_inflow()
    {
        DateTimeOffset from = Start + TimeSpan.FromHours(12);
        LevelCalibration calibration = new(MeasurementName.TankFill, from, new CalibrationPoint(0, 0), new CalibrationPoint(1, 0.5));
        WatchedStation station = new(With() with { Tank = new TankHistory(TankHistory.Of(Drum).Tanks, [calibration]) });

        station.PassSaying(TimeSpan.FromHours(12), ("tank/fill", 0.6));
        station.PassSaying(TimeSpan.FromDays(5), ("tank/fill", 0.6));

        station.PumpOuts.Should().BeEmpty("the sensor says the same, and it means 30 % now");
        station.Facts.Tank.Last!.Value.Value.Should().BeApproximately(0.3, 1e-12);
        station.Facts.Tank.MeanDailyRise().Should().Be(0);
    }

    [Fact]
    public void A_larger_tank_makes_smaller_shares_of_the_same_daily_inflow()
    {
        DateTimeOffset from = Start + TimeSpan.FromDays(5);
        TankHistory tanks = new([.. TankHistory.Of(Drum).Tanks, new DatedTank(from, Drum with { CapacityLitres = 2 * Drum.CapacityLitres })], []);
        WatchedStation station = new(With() with { Tank = tanks });
        for (int quarter = 0; quarter < 4 * 24 * 6; quarter++)
        {
            double litresIn = 0.001 * quarter * Drum.CapacityLitres;
            station.Pass(TimeSpan.FromMinutes(15)).Report(("tank/fill", litresIn / tanks.At(station.Now)!.CapacityLitres));
        }

        station.PumpOuts.Should().BeEmpty();
        station.Facts.Tank.MeanDailyRise().Should().BeApproximately(0.048, 0.004, "0.096 of the old tank a day");
    }

    private static TankDip Dip(DateTimeOffset at, double difference) =>
        new(at, 0.5 * Drum.CapacityLitres, (0.5 + difference) * Drum.CapacityLitres, Drum.CapacityLitres);

    private static WatchedStation Run(StationSetup setup)
    {
        WatchedStation station = new(setup);
        station.PassSaying(TimeSpan.FromHours(10), ("tank/fill", 0.3), ("battery/charge", 0.9));
        return station;
    }
}
