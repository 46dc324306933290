using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Tests.Seasons;

public sealed class SeasonTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    [Theory]
    [InlineData("05-01", true)]
    [InlineData("02-29", true)]
    [InlineData("02-30", false)]
    [InlineData("5-1", false)]
    [InlineData("", false)]
    [InlineData(null, false)]
    public void Parse_takes_a_month_and_a_day_in_two_digits(string? text, bool good) =>
        (MonthDay.Parse(text) is not null).Should().Be(good);

    [Fact]
    public void Of_runs_into_the_next_year_when_it_ends_earlier_than_it_starts() =>
        Season.Of(2026, new MonthDay(10, 1), new MonthDay(4, 30)).LastDay.Should().Be(new DateOnly(2027, 4, 30));

    [Fact]
    public void Window_goes_from_local_midnight_through_the_last_day_and_knows_the_clock_change()
    {
        Season season = new(2026, new DateOnly(2026, 10, 30), new DateOnly(2026, 11, 2));

        season.Window(Boise, DateTimeOffset.MaxValue)!.Length.Should().Be(TimeSpan.FromHours((4 * 24) + 1));
    }

    [Fact]
    public void Window_ends_now_while_the_season_runs_and_is_none_before_it()
    {
        Season season = Season.Of(2026, new MonthDay(5, 1), new MonthDay(10, 15));
        DateTimeOffset now = new(2026, 5, 2, 12, 0, 0, TimeSpan.FromHours(-6));

        season.Window(Boise, now)!.Length.Should().Be(TimeSpan.FromHours(36));
        season.Window(Boise, now.AddDays(-10)).Should().BeNull();
    }
}
