using StationFleet.Domain.Power;

namespace StationFleet.Domain.Tests.Power;

public sealed class BatteryTests
{
    [Theory]
    [Source("Xantrex DR inverter manual 975-0012-01-02, table B-6, 25 °C, three hours at rest")]
    [InlineData(12.7, 1)]
    [InlineData(12.5, 0.8)]
    [InlineData(12.1, 0.5)]
    [InlineData(11.7, 0.2)]
    public void Charge_follows_the_inverter_manual(double volts, double expected) =>
        RestVoltage.Charge(volts, RestVoltageTable.FloodedInverterManual, 12, 25).Should().BeApproximately(expected, 1e-9);

    [Theory]
    [Source("Discover Battery, answers: flooded, by specific gravity")]
    [InlineData(12.65, 1)]
    [InlineData(12.45, 0.75)]
    [InlineData(12.24, 0.5)]
    [InlineData(12.06, 0.25)]
    [InlineData(11.89, 0)]
    public void Charge_follows_the_battery_maker(double volts, double expected) =>
        RestVoltage.Charge(volts, RestVoltageTable.FloodedMaker, 12, 25).Should().BeApproximately(expected, 1e-9);

    [Theory]
    [Source("Concorde service page: AGM")]
    [InlineData(12.80, 1)]
    [InlineData(12.55, 0.75)]
    [InlineData(12.20, 0.5)]
    [InlineData(11.75, 0.25)]
    [InlineData(10.50, 0)]
    public void Charge_follows_the_AGM_maker(double volts, double expected) =>
        RestVoltage.Charge(volts, RestVoltageTable.AgmMaker, 12, 25).Should().BeApproximately(expected, 1e-9);

    [Fact]
    [Source("Discover Battery: 0.024 V for 10 °F and a 12 V battery, 4.3 mV/°C")]
    public void Charge_corrects_a_rest_voltage_for_its_temperature_and_not_by_the_charging_coefficient()
    {
        // 10 °F colder, 0.024 V lower: the same charge.
        double cold = RestVoltage.TableC - (10 / 1.8);
        RestVoltage.Charge(12.24 - 0.024, RestVoltageTable.FloodedMaker, 12, cold).Should().BeApproximately(0.5, 0.001);
    }

    [Fact]
    public void Charge_scales_with_the_nominal_voltage_and_ends_at_full_and_empty()
    {
        RestVoltage.Charge(24.40, RestVoltageTable.AgmMaker, 24, null).Should().BeApproximately(0.5, 1e-9);
        RestVoltage.Charge(13.5, RestVoltageTable.AgmMaker, 12, null).Should().Be(1);
        RestVoltage.Charge(9, RestVoltageTable.AgmMaker, 12, null).Should().Be(0);
    }

    [Fact]
    public void The_tables_disagree_by_as_much_as_is_said()
    {
        double[] charges = [.. Enum.GetValues<RestVoltageTable>().Select(table => RestVoltage.Charge(12.06, table, 12, null))];

        (charges.Max() - charges.Min()).Should().BeInRange(0.10, 0.25);
        RestVoltage.Uncertainty.Should().BeLessThanOrEqualTo(0.125);
        RestVoltage.UsualTable(BatteryChemistry.LithiumIronPhosphate).Should().BeNull("its voltage is flat");
    }

    [Theory]
    [Source("US Army TM 5-1185, tables II and III: 1.280 −90 °F, 1.250 −62 °F")]
    [InlineData(1, -90)]
    [InlineData(0.75, -62)]
    public void FreezingPointC_matches_the_table_where_its_rows_meet(double charge, double fahrenheit) =>
        BatteryCold.FreezingPointC(charge).Should().BeApproximately((fahrenheit - 32) / 1.8, 1e-9);

    [Theory]
    [Source("US Army TM 5-1185, tables II and III, between rows in a straight line: 50 % −37 °C, 25 % −24 °C, almost discharged −17 °C, discharged −12 °C")]
    [InlineData(0.5, -37)]
    [InlineData(0.25, -24)]
    [InlineData(0.10, -17)]
    [InlineData(0, -12)]
    public void FreezingPointC_lies_between_the_rows(double charge, double celsius) =>
        BatteryCold.FreezingPointC(charge).Should().BeApproximately(celsius, 0.6);
}
