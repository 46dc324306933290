using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Tanks;

public sealed class TankUncertaintyTests
{
    private static readonly DateTimeOffset May = new(2026, 5, 1, 6, 0, 0, TimeSpan.Zero);
    private static readonly TankHistory Tank = new([new DatedTank(May, new TankSetup(200))], []);

    [Fact]
    public void Without_a_dip_it_is_the_sensors_own()
    {
        TankUncertainty.At(Tank, [], May.AddDays(1)).Should().Be(0.02);
        TankUncertainty.LitresAt(Tank, [], May.AddDays(1)).Should().Be(4);
        TankUncertainty.At(TankHistory.None, [], May).Should().BeNull();
    }

    [Fact]
    [Source("Root mean square of 5 %, −5 % and 1 %: √(0.0051 / 3) = 0.04123, by hand")]
    public void Dips_that_differ_widen_it_by_their_root_mean_square()
    {
        TankDip[] dips = [Dip(1, 90, 100), Dip(2, 110, 100), Dip(3, 98, 100)];

        TankUncertainty.At(Tank, dips, May.AddDays(4)).Should().BeApproximately(0.04123, 0.00001);
        TankUncertainty.At(Tank, [Dip(1, 99, 100)], May.AddDays(4)).Should().Be(0.02, "a dip that agrees makes no sensor better than its data sheet");
    }

    [Fact]
    public void Dips_from_before_a_calibration_say_nothing_of_what_comes_after_it()
    {
        LevelCalibration calibration = new(MeasurementName.TankFill, May.AddDays(2), new CalibrationPoint(0, 0), new CalibrationPoint(1, 0.9));
        TankHistory calibrated = new(Tank.Tanks, [calibration]);

        TankUncertainty.At(calibrated, [Dip(1, 80, 100)], May.AddDays(1.5)).Should().BeApproximately(0.1, 1e-12);
        TankUncertainty.At(calibrated, [Dip(1, 80, 100)], May.AddDays(3)).Should().Be(0.02);
    }

    [Fact]
    public void Only_the_last_ten_dips_count()
    {
        TankDip[] dips = [Dip(0.5, 0, 200), .. Enumerable.Range(1, 10).Select(day => Dip(day, 90, 100))];

        TankUncertainty.At(Tank, dips, May.AddDays(20)).Should().BeApproximately(0.05, 1e-12);
    }

    [Fact]
    public void A_dip_in_height_needs_the_tanks_shape()
    {
        TankReading sensor = new(MeasurementName.TankFill, May, 0.5);
        TankHistory shaped = TankHistory.Of(new TankSetup(360, new BoxTank(1.2, 0.6, 0.5)));

        TankDip.Of(Tank, May, new DipReading(null, 0.3), sensor).Should().BeNull();
        TankDip.Of(shaped, May, new DipReading(null, 0.25), sensor)!.Difference.Should().BeApproximately(0, 1e-12);
        TankDip.Of(Tank, May, new DipReading(90, null), sensor)!.Difference.Should().BeApproximately(0.05, 1e-12);
    }

    private static TankDip Dip(double days, double dipLitres, double sensorLitres) => new(May.AddDays(days), dipLitres, sensorLitres, 200);
}
