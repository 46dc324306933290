using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Simulation;

/// <summary>The morning on which the demo starts: Wednesday 8 July 2026, 07:05 in America/Boise.</summary>
public sealed class DemoMorningTests
{
    private static readonly FleetFile Fleet = DemoFleet.Load();
    private static readonly DateTimeOffset Morning = StationSimulatorTests.Local(8, 7, 5);

    [Fact]
    public void The_tank_of_COP_1_passes_80_percent_in_the_night_before()
    {
        Value("COP-1", MeasurementName.TankFill, StationSimulatorTests.Local(8, 5)).Should().BeLessThan(0.8);
        Value("COP-1", MeasurementName.TankFill, Morning).Should().BeInRange(0.81, 0.85);
    }

    [Fact]
    public void The_battery_of_OTT_1_fell_under_half_on_Tuesday()
    {
        Value("OTT-1", MeasurementName.BatteryCharge, StationSimulatorTests.Local(7, 7)).Should().BeGreaterThan(0.5);
        Value("OTT-1", MeasurementName.BatteryCharge, Morning).Should().BeInRange(0.4, 0.48);
        Value("OTT-1", MeasurementName.TankFill, Morning).Should().BeLessThan(0.58);
    }

    [Fact]
    public void The_tank_of_SOR_1_is_due_soon() =>
        Value("SOR-1", MeasurementName.TankFill, Morning).Should().BeInRange(0.62, 0.77);

    [Fact]
    public void Nothing_is_wrong_with_COP_2_and_PORT_A()
    {
        (Value("COP-2", MeasurementName.TankLevel, Morning) / 0.81).Should().BeLessThan(0.58);
        Value("COP-2", MeasurementName.BatteryCharge, Morning).Should().BeGreaterThan(0.7);
        Value("PORT-A", MeasurementName.TankFill, Morning).Should().BeLessThan(0.58);
        Value("PORT-A", MeasurementName.BatteryCharge, Morning).Should().BeGreaterThan(0.7);
    }

    [Fact]
    public void All_but_the_one_on_the_road_were_heard_within_the_last_quarter_of_an_hour()
    {
        List<SimulatedReport> recent = [.. new FleetSimulator(Fleet).ReceivedBetween(Morning.AddMinutes(-15), Morning)];

        recent.Select(report => report.Station).Distinct().Should().BeEquivalentTo("COP-1", "COP-2", "OTT-1", "SOR-1", "PORT-A");
    }

    [Fact]
    public void Two_makings_of_the_fleet_say_the_same_word_for_word()
    {
        DateTimeOffset from = Morning.AddDays(-1);

        IEnumerable<string> Texts() => new FleetSimulator(Fleet).ReceivedBetween(from, Morning)
            .Select(report => $"{report.Received:O} {report.Station} {string.Join(';', report.Measurements)}");

        Texts().Should().Equal(Texts());
    }

    private static double Value(string code, string name, DateTimeOffset at) =>
        new StationSimulator(Fleet, code).ReceivedBetween(at.AddDays(-1), at)
            .SelectMany(report => report.Measurements).Where(m => m.Name == name).OrderBy(m => m.At).Last().Value;
}
