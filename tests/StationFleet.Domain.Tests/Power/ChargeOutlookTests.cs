using StationFleet.Domain.Power;

namespace StationFleet.Domain.Tests.Power;

public sealed class ChargeOutlookTests
{
    private static readonly DateTimeOffset Dusk = new(2026, 7, 6, 3, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly First = new(2026, 7, 5);

    [Fact]
    public void Where_all_days_are_the_same_the_outlook_is_plain_reckoning()
    {
        // By night 10 h at 12 W, by day 14 h at 12 W and half of 400 Wh with 95 %: of 1,000 Wh 12 points down, 2.2 up.
        ChargeOutlook outlook = ChargeOutlook.Of(0.8, 0, 1000, Same(0.5), Week(), seed: 1);

        ChargeBand dawn = outlook.At(Dusk.AddHours(10));
        ChargeBand dusk = outlook.At(Dusk.AddHours(24));
        (dawn.Low, dawn.High).Should().Be((dawn.Middle, dawn.Middle));
        dawn.Middle.Should().BeApproximately(0.68, 1e-6);
        dusk.Middle.Should().BeApproximately(0.68 + 0.19 - 0.168, 1e-6);
        outlook.At(Dusk.AddHours(5)).Middle.Should().BeApproximately(0.74, 1e-6);
    }

    [Fact]
    public void The_crossing_is_found_inside_a_night()
    {
        ChargeForecast forecast = ChargeOutlook.Of(0.8, 0, 1000, Same(0.5), Week(), seed: 1).Under(0.70, TimeSpan.FromHours(24));

        // 10 points at 1.2 an hour.
        forecast.Likeliest.Should().BeCloseTo(Dusk.AddHours(10 / 1.2), TimeSpan.FromMinutes(2));
        (forecast.Early, forecast.Late).Should().Be((forecast.Likeliest, forecast.Likeliest));
        (forecast.WithinResponse, forecast.WithinThreeDays, forecast.InWords).Should().Be((1, 1, "more likely than not"));
    }

    [Fact]
    public void A_station_that_gains_more_than_it_draws_never_falls_and_fills_to_what_it_calls_full()
    {
        DrawnDay[] past = [.. Same(0.9).Select(day => day with { FullAtDusk = 0.97 })];
        ChargeOutlook outlook = ChargeOutlook.Of(0.9, 0, 1000, past, Week(), seed: 1);

        outlook.Under(0.5, TimeSpan.FromDays(2)).Should().Match<ChargeForecast>(f => f.Early == null && f.WithinThreeDays == 0 && f.InWords == "unlikely");
        outlook.At(Dusk.AddDays(5)).High.Should().BeApproximately(0.97, 1e-6);
    }

    [Fact]
    public void The_same_past_gives_the_same_outlook_and_another_seed_another()
    {
        DrawnDay[] past = [.. Same(0.5).Select((day, i) => day with { SunShare = 0.1 + (0.07 * (i % 10)), DayWatts = 8 + (i % 4) })];

        ChargeForecast one = ChargeOutlook.Of(0.7, 0.01, 1000, past, Week(), seed: 1).Under(0.5, TimeSpan.FromDays(2));
        ChargeForecast again = ChargeOutlook.Of(0.7, 0.01, 1000, past, Week(), seed: 1).Under(0.5, TimeSpan.FromDays(2));
        ChargeForecast other = ChargeOutlook.Of(0.7, 0.01, 1000, past, Week(), seed: 2).Under(0.5, TimeSpan.FromDays(2));

        again.Should().Be(one);
        other.Should().NotBe(one);
        one.Early.Should().BeBefore(one.Likeliest!.Value);
    }

    [Fact]
    public void Weather_comes_in_blocks_of_three_days()
    {
        // Three dull days in a row, three fair ones: drawn one by one, three days would hardly ever all be dull.
        DrawnDay[] past = [.. Same(0).Select((day, i) => day with { SunShare = i / 3 % 2 == 0 ? 0 : 1, DayWatts = 0, NightWatts = 0 })];
        ChargeOutlook outlook = ChargeOutlook.Of(0, 0, 10_000, past, Week(), seed: 5);

        // After three days of nought to 380 Wh each: a block holds nought, one, two or three fair days, evenly.
        ChargeBand third = outlook.At(Dusk.AddDays(3));
        third.Low.Should().BeApproximately(0, 1e-6);
        third.High.Should().BeApproximately(3 * 0.038, 1e-6);
    }

    private static DrawnDay[] Same(double sunShare) => [.. Enumerable.Range(0, 28).Select(i => new DrawnDay(First.AddDays(i - 28), sunShare, 12, 12))];

    private static List<SunStretch> Week() =>
    [
        .. from day in Enumerable.Range(0, 7)
           from part in Enumerable.Range(0, 2)
           let isDay = part == 1
           let start = Dusk.AddDays(day).AddHours(isDay ? 10 : 0)
           select new SunStretch(start, start.AddHours(isDay ? 14 : 10), First.AddDays(isDay ? day + 1 : day), isDay, isDay ? 400 : 0),
    ];
}
