using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class SilentTogetherTests
{
    private static readonly DateTimeOffset Now = new(2026, 7, 8, 13, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Three_that_fell_silent_within_three_quarters_of_an_hour_are_one_story()
    {
        SilentTogether together = SilentTogether.Find([("SOR-1", Ago(240)), ("COP-1", Ago(260)), ("OTT-1", Ago(280)), ("COP-2", Ago(10))], Now)!;

        together.Codes.Should().Equal("COP-1", "OTT-1", "SOR-1");
        together.Leader.Should().Be("COP-1");
        together.OthersOf("COP-1").Should().Be("OTT-1 and SOR-1");
    }

    [Fact]
    public void Two_or_less_than_half_of_the_fleet_or_silences_far_apart_are_each_its_own()
    {
        SilentTogether.Find([("A", Ago(240)), ("B", Ago(240)), ("C", Ago(5))], Now).Should().BeNull();
        SilentTogether.Find([("A", Ago(240)), ("B", Ago(240)), ("C", Ago(240)), ("D", Ago(5)), ("E", Ago(5)), ("F", Ago(5))], Now).Should().BeNull();
        SilentTogether.Find([("A", Ago(240)), ("B", Ago(340)), ("C", Ago(440))], Now).Should().BeNull();
        SilentTogether.Find([], Now).Should().BeNull();
    }

    private static DateTimeOffset Ago(int minutes) => Now.AddMinutes(-minutes);
}
