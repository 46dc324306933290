using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class BoatingSeasonTests
{
    private static readonly DateOnly Summer = new(2026, 7, 24);
    private static readonly DateOnly Winter = new(2026, 1, 22);

    [Theory]
    [Source("exp(1.4), computed by hand: no published source for boats")]
    [InlineData(45.0, 4.055)]
    [InlineData(60.0, 4.055)]
    [InlineData(22.5, 2.014)]
    [InlineData(0.0, 1.0)]
    [InlineData(-45.0, 0.2466)]
    [InlineData(null, 1.0)]
    public void Summer_brings_more_boats_than_winter_away_from_the_equator(double? latitudeDeg, double ratio) =>
        (BoatingSeason.Factor(Summer, latitudeDeg) / BoatingSeason.Factor(Winter, latitudeDeg)).Should().BeApproximately(ratio, 0.01);

    [Fact]
    public void A_station_expects_the_season_of_the_place_where_it_stands_then_times_what_is_known_of_the_day()
    {
        StandingPlace north = new("Dam road", 45, -115, WatchedStation.Start, WatchedStation.Start.AddDays(30));
        FactsContext context = new(WatchedStation.With() with { Places = [north], Events = [new KnownEvent("Regatta", Summer, Summer, 2)] });

        context.FactorOf(Summer).Should().BeApproximately(2 * BoatingSeason.Factor(Summer, 45), 1e-12, "it stands there last, as far as is known");
        new FactsContext(WatchedStation.With()).FactorOf(Summer).Should().Be(1);
    }

    [Fact]
    public void Uses_are_those_of_service_when_half_of_their_interval_lies_in_visits_however_many_there_were()
    {
        DateTimeOffset noon = WatchedStation.Start.AddHours(12);
        UtcInterval[] visits = [.. Enumerable.Range(0, 500).Select(day => new UtcInterval(noon.AddDays(day), noon.AddDays(day).AddMinutes(20)))];
        FactsContext context = new(WatchedStation.With() with { Service = new ServiceLog([.. visits.Reverse()], []) });

        foreach (int day in (int[])[0, 1, 250, 499])
        {
            DateTimeOffset at = noon.AddDays(day);
            context.IsServiceTime(at.AddMinutes(5), at.AddMinutes(10)).Should().BeTrue();
            context.IsServiceTime(at.AddMinutes(-10), at.AddMinutes(10)).Should().BeTrue();
            context.IsServiceTime(at.AddMinutes(-11), at.AddMinutes(10)).Should().BeFalse();
            context.IsServiceTime(at.AddMinutes(20), at.AddMinutes(25)).Should().BeFalse();
            context.IsServiceTime(at.AddHours(-1), at.AddMinutes(-5)).Should().BeFalse();
        }
    }
}
