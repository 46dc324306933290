using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Tests.Tanks;

public sealed class TimeToFullTests
{
    private static readonly DateOnly Monday = new(2026, 7, 6);
    private static readonly double[] EvenHours = [.. Enumerable.Repeat(1.0 / 24, 24)];
    private static readonly double[] Usual = [.. Enumerable.Repeat(1.0, TimeToFull.Days)];

    [Theory]
    [Source("scipy 1.10, stats.gamma.sf(room, mean**2/var, scale=var/mean)")]
    [InlineData(18, 36, 20, 0.332820)]
    [InlineData(2, 8, 5, 0.113846)]
    public void The_chance_is_the_upper_tail_of_a_gamma_distribution(double mean, double variance, double room, double expected) =>
        TimeToFull.ChanceToReach(mean, variance, room).Should().BeApproximately(expected, 5e-7);

    [Fact]
    public void An_even_inflow_fills_the_tank_when_its_mean_does_and_the_window_lies_around_it()
    {
        TimeToFull forecast = Of(Days(56, _ => 0.10))!;

        forecast.Rate.Should().BeApproximately(0.10, 0.02);
        int middle = forecast.HoursTo(0.5, 0.5)!.Value;
        middle.Should().BeInRange(4 * 24, 6 * 24);
        forecast.HoursTo(0.5, 0.1)!.Value.Should().BeLessThan(middle);
        forecast.HoursTo(0.5, 0.9)!.Value.Should().BeGreaterThan(middle);
    }

    [Fact]
    public void The_most_likely_time_of_a_skewed_wait_lies_before_the_middle_and_no_other_is_nearer_in_the_median()
    {
        // A quiet ramp: one use brings a fifth of the tank, every fifth day.
        IReadOnlyList<DayInflow> past = [.. Enumerable.Range(0, 56).Select(i => new DayInflow(Monday.AddDays(i - 56), i % 5 == 0 ? 0.2 : 0))];
        TimeToFull forecast = TimeToFull.Of(new InflowInput(past, Monday, Usual, EvenHours, 0, 0, PerUse: 0.2))!;
        int likeliest = forecast.LikeliestHours(0.15)!.Value;
        int middle = forecast.HoursTo(0.15, 0.5)!.Value;
        double Within(int hour, int distance) => forecast.ChanceBy(0.15, hour + distance) - forecast.ChanceBy(0.15, Math.Max(0, hour - distance));
        int Median(int hour) => Enumerable.Range(1, 24 * 30).First(distance => Within(hour, distance) >= 0.5);

        likeliest.Should().BeLessThan(middle);
        Median(likeliest).Should().BeLessThan(Median(middle));
        Median(likeliest).Should().BeLessThanOrEqualTo((int)(1.03 * Enumerable.Range(1, 24 * 20).Min(Median)) + 1, "it is looked for at each tenth of the chance");
    }

    [Fact]
    public void The_most_likely_time_of_an_even_inflow_is_near_its_middle()
    {
        TimeToFull forecast = Of(Days(56, _ => 0.10))!;

        forecast.LikeliestHours(0.5)!.Value.Should().BeInRange(forecast.HoursTo(0.5, 0.35)!.Value, forecast.HoursTo(0.5, 0.55)!.Value);
        forecast.LikeliestHours(100).Should().BeNull("it does not fill within 70 days");
    }

    [Fact]
    public void The_chance_never_falls_as_time_goes_on()
    {
        TimeToFull forecast = Of(Days(40, day => day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday ? 0.3 : 0.02))!;

        double[] chances = [.. Enumerable.Range(1, 24 * TimeToFull.Days).Select(hour => forecast.ChanceBy(0.6, hour))];

        chances.Zip(chances.Skip(1)).Should().OnlyContain(pair => pair.Second > pair.First - 1e-3, "the fitted distributions of two hours may cross by a trifle");
        chances[^1].Should().BeGreaterThan(0.99);
    }

    [Fact]
    public void A_station_that_fills_on_weekends_is_forecast_for_the_weekend()
    {
        TimeToFull forecast = Of(Days(56, day => day.DayOfWeek switch { DayOfWeek.Saturday => 0.30, DayOfWeek.Sunday => 0.25, _ => 0.01 }))!;

        (forecast.HoursTo(0.3, 0.5)!.Value / 24).Should().Be(5, "Monday is day 0, Saturday day 5");
    }

    [Fact]
    public void A_day_that_began_busier_than_usual_brings_it_forward_and_a_known_holiday_does_too()
    {
        IReadOnlyList<DayInflow> past = Days(56, _ => 0.10);
        int Hours(double soFar, double today) =>
            TimeToFull.Of(new InflowInput(past, Monday, [today, .. Usual], EvenHours, 12, soFar, PerUse: 0.02))!.HoursTo(0.15, 0.5)!.Value;

        Hours(soFar: 0.20, today: 1).Should().BeLessThan(Hours(soFar: 0.05, today: 1));
        Hours(soFar: 0.05, today: 3).Should().BeLessThan(Hours(soFar: 0.05, today: 1));
    }

    [Fact]
    public void Known_busy_days_of_the_past_do_not_raise_the_usual_level()
    {
        IReadOnlyList<DayInflow> told = [.. Days(28, _ => 0.10).Select((day, i) => i == 20 ? day with { Share = 0.5, Factor = 5 } : day)];

        Of(told)!.Rate.Should().BeApproximately(Of(Days(28, _ => 0.10))!.Rate, 0.005);
    }

    [Fact]
    public void Nothing_is_forecast_of_one_day_and_a_tank_that_nothing_fills_is_never_full()
    {
        Of(Days(1, _ => 0.1)).Should().BeNull();
        Of(Days(30, _ => 0))!.HoursTo(0.5, 0.1).Should().BeNull();
        Of(Days(30, _ => 0.1))!.ChanceBy(0, 1).Should().Be(1, "it is full");
    }

    private static TimeToFull? Of(IReadOnlyList<DayInflow> past) => TimeToFull.Of(new InflowInput(past, Monday, Usual, EvenHours, 0, 0, PerUse: 0.02));

    private static IReadOnlyList<DayInflow> Days(int count, Func<DateOnly, double> share) =>
        [.. Enumerable.Range(-count, count).Select(back => new DayInflow(Monday.AddDays(back), share(Monday.AddDays(back))))];
}
