using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Time;

/// <summary>Clock changes in Boise in 2026: forward on 8 March, 02:00 to 03:00; back on 1 November, 02:00 to 01:00 (IANA time zone database).</summary>
public sealed class LocalCalendarInstantTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    [Fact]
    public void InstantAt_reads_summer_and_winter_time()
    {
        LocalCalendar.InstantAt(new DateTime(2026, 7, 8, 7, 5, 0), Boise).Should().Be(Utc(2026, 7, 8, 13, 5));
        LocalCalendar.InstantAt(new DateTime(2026, 1, 8, 7, 5, 0), Boise).Should().Be(Utc(2026, 1, 8, 14, 5));
    }

    [Fact]
    public void InstantAt_finds_nothing_at_a_time_that_the_clocks_skip() =>
        LocalCalendar.InstantAt(new DateTime(2026, 3, 8, 2, 30, 0), Boise).Should().BeNull();

    [Fact]
    public void InstantAt_takes_the_first_of_a_time_that_comes_twice() =>
        LocalCalendar.InstantAt(new DateTime(2026, 11, 1, 1, 30, 0), Boise).Should().Be(Utc(2026, 11, 1, 7, 30), "summer time still holds the first time");

    [Fact]
    public void InstantAt_ignores_the_kind_of_the_date() =>
        LocalCalendar.InstantAt(new DateTime(2026, 7, 8, 7, 5, 0, DateTimeKind.Utc), Boise).Should().Be(Utc(2026, 7, 8, 13, 5));

    private static DateTimeOffset Utc(int year, int month, int day, int hour, int minute) => new(year, month, day, hour, minute, 0, TimeSpan.Zero);
}
