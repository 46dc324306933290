using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Tanks;

public sealed class TankHistoryTests
{
    private static readonly DateTimeOffset May = new(2026, 5, 1, 6, 0, 0, TimeSpan.Zero);
    private static readonly TankSetup Box = new(360, new BoxTank(1.2, 0.6, 0.5));

    [Theory]
    [InlineData(-10, 325.24)]
    [InlineData(0, 331.3)]
    [InlineData(10, 337.36)]
    [InlineData(20, 343.42)]
    [InlineData(25, 346.45)]
    [InlineData(30, 349.48)]
    [Source("S. Holm: c = 331.3 + 0.606 T, good to about ±30 °C")]
    public void The_speed_of_sound_follows_the_usual_straight_line(double celsius, double metresPerSecond) =>
        SpeedOfSound.At(celsius).Should().BeApproximately(metresPerSecond, 0.5, "the line and the root differ by 0.4 m/s at 30 °C");

    [Theory]
    [InlineData(20, 343.2146)]
    [InlineData(40, 354.7293)]
    [Source("331.3 √(1 + T/273.15), worked independently")]
    public void The_speed_of_sound_is_that_of_the_exact_form(double celsius, double metresPerSecond) =>
        SpeedOfSound.At(celsius).Should().BeApproximately(metresPerSecond, 0.0001);

    [Fact]
    [Source("Distance = c t / 2 for t = 5 ms: 0.82825 m at 0 °C, 0.85855 at 20, 0.88128 at 35 (straight line)")]
    public void An_echo_of_five_milliseconds_means_more_metres_in_warmer_air()
    {
        // A sensor that reckons with 20 °C says 0.85855 m of a 5 ms echo, whatever the weather.
        SpeedOfSound.Corrected(0.85855, 0, 20).Should().BeApproximately(0.82825, 0.001);
        SpeedOfSound.Corrected(0.85855, 35, 20).Should().BeApproximately(0.88128, 0.0015, "line and root part above 30 °C");
        SpeedOfSound.Corrected(0.85855, 20, 20).Should().Be(0.85855);
    }

    [Fact]
    public void A_distance_is_made_a_level_by_the_sensors_height_and_the_airs_temperature()
    {
        TankHistory tank = TankHistory.Of(Box with { SensorHeightM = 0.8, SensorAssumesC = 20 });

        tank.Read(Distance(0.5, airTempC: 20))!.LevelM.Should().BeApproximately(0.3, 1e-12);
        tank.Read(Distance(0.5, airTempC: 30))!.LevelM.Should().BeApproximately(0.8 - (0.5 * 349.02 / 343.21), 1e-4, "sound is faster: the liquid is farther away");
        tank.Read(Distance(0.5, airTempC: null))!.LevelM.Should().BeApproximately(0.3, 1e-12, "without a temperature nothing is corrected");
    }

    [Fact]
    public void A_sensor_that_measures_the_air_itself_is_not_corrected() =>
        TankHistory.Of(Box with { SensorHeightM = 0.8 }).Read(Distance(0.5, airTempC: 35))!.LevelM.Should().BeApproximately(0.3, 1e-12);

    [Fact]
    public void Another_tank_changes_litres_from_its_date_only()
    {
        TankHistory tank = new([new DatedTank(May, Box), new DatedTank(May.AddDays(30), new TankSetup(180, new BoxTank(1.2, 0.3, 0.5)))], []);

        tank.Read(Level(0.2, May.AddDays(29)))!.Litres.Should().BeApproximately(144, 1e-9);
        tank.Read(Level(0.2, May.AddDays(30)))!.Litres.Should().BeApproximately(72, 1e-9);
        tank.Read(Level(0.2, May.AddDays(-1))).Should().BeNull("there was no tank");
    }

    [Fact]
    public void A_calibration_sets_the_sensor_right_from_its_instant_and_until_the_next_tank()
    {
        LevelCalibration calibration = new(MeasurementName.TankLevel, May.AddDays(10), new CalibrationPoint(0.05, 0.07), new CalibrationPoint(0.45, 0.49));
        TankHistory tank = new([new DatedTank(May, Box), new DatedTank(May.AddDays(30), Box)], [calibration]);

        Level(May.AddDays(9)).Should().BeApproximately(0.25, 1e-12, "old readings keep what held before");
        Level(May.AddDays(10)).Should().BeApproximately(0.28, 1e-12, "0.07 + (0.25 − 0.05) · 0.42 / 0.40");
        Level(May.AddDays(30)).Should().BeApproximately(0.25, 1e-12, "another tank, another sensor");

        double? Level(DateTimeOffset at) => tank.Read(TankHistoryTests.Level(0.25, at))!.LevelM;
    }

    [Fact]
    public void A_calibrated_distance_needs_no_sensor_height_and_is_corrected_from_the_day_of_the_calibration()
    {
        LevelCalibration calibration = new(
            MeasurementName.TankDistance, May, new CalibrationPoint(0.75, 0.05), new CalibrationPoint(0.35, 0.45), AirTempC: 30);
        TankHistory tank = new([new DatedTank(May, Box with { SensorHeightM = 0.9, SensorAssumesC = 20 })], [calibration]);

        tank.Read(Distance(0.35, airTempC: 30))!.LevelM.Should().BeApproximately(0.45, 1e-12, "as on that day");
        tank.Read(Distance(0.35, airTempC: 10))!.LevelM.Should().BeGreaterThan(0.45, "in colder air the same echo came from nearer");
    }

    [Theory]
    [InlineData(null)]
    [InlineData(0.8)]
    public void What_a_sensor_would_say_is_read_back_as_what_was_in_the_tank(double? sensorHeightM)
    {
        TankSetup setup = Box with { SensorHeightM = sensorHeightM, SensorAssumesC = 20 };
        LevelCalibration calibration = sensorHeightM is null
            ? new LevelCalibration(MeasurementName.TankLevel, May, new CalibrationPoint(0.05, 0.07), new CalibrationPoint(0.45, 0.49))
            : new LevelCalibration(MeasurementName.TankDistance, May, new CalibrationPoint(0.74, 0.05), new CalibrationPoint(0.35, 0.45), 25);
        TankHistory tank = new([new DatedTank(May, setup)], [calibration]);

        TankReading said = tank.Say(123, May.AddDays(1), airTempC: 11)!;

        tank.Read(said)!.Litres.Should().BeApproximately(123, 1e-6);
    }

    [Fact]
    public void The_most_direct_sensor_speaks_and_old_air_is_not_asked()
    {
        TankHistory tank = TankHistory.Of(Box with { SensorHeightM = 0.8, SensorAssumesC = 20 });
        Measurement air = new(MeasurementName.AirTemperature, May.AddHours(-3), 35);

        tank.ReadBest([air, new(MeasurementName.TankDistance, May, 0.5)])!.Value.Reading.AirTempC.Should().BeNull("it is three hours old");
        tank.ReadBest([new(MeasurementName.TankDistance, May, 0.5), new(MeasurementName.TankLevel, May, 0.1)])!.Value.Reading.Name.Should().Be(MeasurementName.TankLevel);
        tank.ReadBest([new(MeasurementName.TankLevel, May, 0.1), new(MeasurementName.TankFill, May, 0.4)])!.Value.Amount.Share.Should().Be(0.4);
    }

    [Fact]
    public void Points_that_make_no_line_are_told()
    {
        LevelCalibration sound = new(MeasurementName.TankLevel, May, new CalibrationPoint(0.1, 0.1), new CalibrationPoint(0.4, 0.5));

        sound.Fault().Should().BeNull();
        (sound with { High = new CalibrationPoint(0.1, 0.5) }).Fault().Should().StartWith("The two readings of the sensor are the same");
        (sound with { High = new CalibrationPoint(0.4, 0.05) }).Fault().Should().StartWith("The reading must rise");
        (sound with { Name = MeasurementName.TankDistance }).Fault().Should().StartWith("A distance falls");
    }

    private static TankReading Level(double levelM, DateTimeOffset at) => new(MeasurementName.TankLevel, at, levelM);

    private static TankReading Distance(double distanceM, double? airTempC) => new(MeasurementName.TankDistance, May, distanceM, airTempC);
}
