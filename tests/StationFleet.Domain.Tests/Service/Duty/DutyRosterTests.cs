using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Service.Duty;

public sealed class DutyRosterTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
    private static readonly ClockHours AllDay = new(new TimeOnly(0, 0), new TimeOnly(0, 0));

    [Fact]
    public void OnDuty_puts_hours_of_the_access_before_those_of_every_access()
    {
        DutyRoster roster = new(
            [
                new DutyHours("everywhere", null, Weekdays.All, AllDay),
                new DutyHours("here", new AccessId(1), Weekdays.All, AllDay),
                new DutyHours("elsewhere", new AccessId(2), Weekdays.All, AllDay),
            ],
            []);

        roster.OnDuty(new AccessId(1), At(8, 12), Boise).Should().Equal("here", "everywhere");
        roster.OnDuty(null, At(8, 12), Boise).Should().Equal("everywhere");
    }

    [Theory]
    [InlineData(8, 21, false)]
    [InlineData(8, 22, true)]
    [InlineData(9, 5, true)]
    [InlineData(9, 6, false)]
    [InlineData(9, 22, false)]
    public void OnDuty_lets_a_night_that_begins_on_a_Wednesday_end_on_the_Thursday(int day, int hour, bool isOn)
    {
        DutyRoster roster = new([new DutyHours("night", null, Weekdays.Wednesday, new ClockHours(new TimeOnly(22, 0), new TimeOnly(6, 0)))], []);

        roster.OnDuty(null, At(day, hour), Boise).Should().HaveCount(isOn ? 1 : 0);
    }

    [Fact]
    public void OnDuty_follows_stand_ins_and_does_not_go_round_for_ever()
    {
        DateOnly today = new(2026, 7, 8);
        DutyHours[] hours = [new DutyHours("a", null, Weekdays.All, AllDay)];

        new DutyRoster(hours, [new Absence("a", "b", today, today), new Absence("b", "c", today, today)])
            .OnDuty(null, At(8, 12), Boise).Should().Equal("c");
        new DutyRoster(hours, [new Absence("a", "b", today, today), new Absence("b", "a", today, today)])
            .OnDuty(null, At(8, 12), Boise).Should().BeEmpty();
        new DutyRoster(hours, [new Absence("a", null, today, today)]).OnDuty(null, At(9, 0), Boise).Should().Equal("a");
    }

    [Fact]
    public void NextOnDuty_finds_the_beginning_of_hours_and_the_end_of_an_absence()
    {
        DutyHours[] hours = [new DutyHours("a", null, Weekdays.All, AllDay), new DutyHours("b", null, Weekdays.Friday, new ClockHours(new TimeOnly(7, 0), new TimeOnly(9, 0)))];
        Absence[] away = [new Absence("a", null, new DateOnly(2026, 7, 1), new DateOnly(2026, 7, 10))];
        DutyRoster roster = new(hours, away);

        roster.NextOnDuty(null, At(8, 12), At(20, 0), Boise).Should().Be(At(10, 7));
        roster.NextOnDuty(null, At(10, 9), At(20, 0), Boise).Should().Be(At(11, 0));
        roster.NextOnDuty(null, At(8, 12), At(9, 12), Boise).Should().BeNull();
        roster.NextOnDuty(null, At(12, 3), At(20, 0), Boise).Should().Be(At(12, 3), "somebody is on duty at once");
    }

    [Fact]
    [Source("IANA time zone database: America/Boise goes from 02:00 to 03:00 on 8 March 2026, and from 02:00 to 01:00 on 1 November")]
    public void On_is_an_hour_shorter_in_the_night_that_skips_one_and_longer_in_the_night_that_repeats_one()
    {
        ClockHours night = new(new TimeOnly(22, 0), new TimeOnly(6, 0));

        night.On(new DateOnly(2026, 3, 7), Boise)!.Length.Should().Be(TimeSpan.FromHours(7));
        night.On(new DateOnly(2026, 7, 7), Boise)!.Length.Should().Be(TimeSpan.FromHours(8));
        night.On(new DateOnly(2026, 10, 31), Boise)!.Length.Should().Be(TimeSpan.FromHours(9));
        new ClockHours(new TimeOnly(2, 15), new TimeOnly(2, 45)).On(new DateOnly(2026, 3, 8), Boise).Should().BeNull("the clocks skip all of it");
        LocalCalendar.ReachedAt(new DateOnly(2026, 3, 8), new TimeOnly(2, 30), Boise).Should().Be(new DateTimeOffset(2026, 3, 8, 9, 0, 0, TimeSpan.Zero));
    }

    [Fact]
    public void Leave_gives_the_end_of_quiet_hours_over_midnight()
    {
        ClockHours quiet = new(new TimeOnly(20, 0), new TimeOnly(6, 30));

        quiet.Leave(At(8, 23), Boise).Should().Be(At(9, 6).AddMinutes(30));
        quiet.Leave(At(9, 2), Boise).Should().Be(At(9, 6).AddMinutes(30));
        quiet.Leave(At(9, 12), Boise).Should().Be(At(9, 12));
        AllDay.Leave(At(9, 12), Boise).Should().Be(At(9, 12), "the same beginning and end mean no quiet hours");
    }

    [Fact]
    public void WorkingHours_count_only_theirs_over_a_weekend_and_a_clock_change()
    {
        WorkingHours working = new(Weekdays.WorkingWeek, new ClockHours(new TimeOnly(8, 0), new TimeOnly(17, 0)));

        working.After(At(10, 15), TimeSpan.FromHours(4), Boise).Should().Be(At(13, 10), "two hours of Friday, two of Monday");
        working.After(At(11, 3), TimeSpan.FromHours(1), Boise).Should().Be(At(13, 9));
        working.After(At(8, 8), TimeSpan.FromHours(9), Boise).Should().Be(At(8, 17), "the end of a day is reached on that day");
        working.After(new DateTimeOffset(2026, 10, 30, 22, 0, 0, TimeSpan.Zero), TimeSpan.FromHours(2), Boise)
            .Should().Be(new DateTimeOffset(2026, 11, 2, 16, 0, 0, TimeSpan.Zero), "Friday 16:00 in summer time, Monday 09:00 in winter time");
        new WorkingHours(Weekdays.None, AllDay).After(At(8, 8), TimeSpan.FromHours(1), Boise).Should().Be(DateTimeOffset.MaxValue);
    }

    [Theory]
    [InlineData(Weekdays.All, "every day")]
    [InlineData(Weekdays.WorkingWeek, "Mon to Fri")]
    [InlineData(Weekdays.Saturday | Weekdays.Sunday, "Sat, Sun")]
    [InlineData(Weekdays.Monday | Weekdays.Wednesday | Weekdays.Thursday | Weekdays.Friday, "Mon, Wed to Fri")]
    public void Say_names_runs_of_days(Weekdays days, string words) => WeekdaySets.Say(days).Should().Be(words);

    // A day of July 2026 by the access's clock.
    private static DateTimeOffset At(int day, int hour) => new DateTimeOffset(2026, 7, day, hour, 0, 0, TimeSpan.FromHours(-6)).ToUniversalTime();
}
