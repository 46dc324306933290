using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class TankWaterTests
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 8, 12, 0, 0, TimeSpan.Zero);

    private static readonly CountedPumpOut[] Emptyings =
    [
        new(Noon, 150, PumpOutWitness.Both),
        new(Noon.AddDays(-10), 140, PumpOutWitness.Sensor),
    ];

    [Theory]
    [InlineData(-1, -10, 0, 150.0)]
    [InlineData(30, -10, 0, 150.0)]
    [InlineData(90, 0, null, null)]
    [InlineData(-15_000, null, -10, 140.0)]
    public void Of_finds_the_water_between_two_emptyings(int minutes, int? sinceDays, int? untilDays, double? litres) =>
        TankWater.Of(Noon.AddMinutes(minutes), Emptyings).Should().Be(new TankWater(
            sinceDays is { } since ? Noon.AddDays(since) : null, untilDays is { } until ? Noon.AddDays(until) : null, litres));

    [Fact]
    public void AgeAt_is_not_known_without_an_emptying_before()
    {
        TankWater.Of(Noon, []).AgeAt(Noon).Should().BeNull();
        TankWater.Of(Noon.AddDays(-4), Emptyings).AgeAt(Noon.AddDays(-4)).Should().Be(TimeSpan.FromDays(6));
    }

    [Fact]
    [Source("A worked chain: 10 L concentrated to 50 mL, five aliquots of 1 mL, are 1.0 L of tank water (w = v·a/b); common practice")]
    public void Litres_of_examined_water_follow_the_chain()
    {
        ExaminedWater.Litres(10, 5, 50).Should().BeApproximately(1.0, 1e-12);
        ExaminedWater.Litres(2, 2000, null).Should().BeApproximately(2.0, 1e-12, "not concentrated, and all of it");
    }

    [Theory]
    [InlineData(SampleKind.Grab, 2, "COP-1-260708-B")]
    [InlineData(SampleKind.Blank, 1, "COP-1-260708-BLANK")]
    [InlineData(SampleKind.Pieces, 2, "COP-1-260708-PIECES2")]
    public void A_code_can_be_written_by_hand(SampleKind kind, int number, string code) =>
        SampleCode.Of("COP-1", new DateOnly(2026, 7, 8), kind, number).Should().Be(code);
}
