using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Tests.Grants;

public sealed class InventoryTests
{
    private static readonly Sighting AsRecorded = new("Dam Road, Copperline Reservoir", "V-2217", true, "Dam Road, Copperline Reservoir", "V-2217", ItemCondition.Good);

    [Fact]
    public void What_agrees_with_the_records_has_no_difference() => Inventory.Differences(AsRecorded).Should().BeEmpty();

    [Fact]
    public void A_serial_number_that_nobody_read_is_no_difference() =>
        Inventory.Differences(AsRecorded with { Serial = "", Place = " dam road, copperline reservoir" }).Should().BeEmpty();

    [Fact]
    public void Each_difference_is_said_for_itself() =>
        Inventory.Differences(AsRecorded with { Place = "Yard", Serial = "V-2271", Condition = ItemCondition.Broken }).Should().Equal(
            "It was seen at Yard; the records have it at Dam Road, Copperline Reservoir.",
            "It bears the serial number V-2271; the records say V-2217.",
            "It does not work.");

    [Fact]
    public void What_was_not_seen_is_one_difference() =>
        Inventory.Differences(AsRecorded with { WasSeen = false, Place = "", Condition = null }).Should().Equal("It was not seen.");

    [Fact]
    public void The_next_inventory_is_due_two_years_after_the_last_or_after_the_first_purchase()
    {
        Inventory.Due(new DateOnly(2024, 10, 31), new DateOnly(2023, 1, 1), 24).Should().Be(new DateOnly(2026, 10, 31));
        Inventory.Due(null, new DateOnly(2024, 2, 29), 24).Should().Be(new DateOnly(2026, 2, 28));
    }

    [Theory]
    [InlineData(new[] { 33.33, 33.33, 33.34 }, null)]
    [InlineData(new[] { 60.0, 30.0 }, "The shares make 90 %; they must make 100 %.")]
    [InlineData(new[] { 100.0, 0.0 }, "Each share is above 0 %: leave out who has none.")]
    [InlineData(new double[0], "The shares make 0 %; they must make 100 %.")]
    public void Shares_make_a_whole(double[] shares, string? fault) =>
        Shares.Fault([.. shares.Select(share => Percentage.Of((decimal)share))]).Should().Be(fault);
}
