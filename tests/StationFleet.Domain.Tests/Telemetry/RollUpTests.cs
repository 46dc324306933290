using CsCheck;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Telemetry;

public sealed class RollUpTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
    private static readonly TimeZoneInfo LordHowe = TimeZoneInfo.FindSystemTimeZoneById("Australia/Lord_Howe");
    private static readonly PlacementId Here = new(7);
    private static readonly SeriesNature Counter = new(SeriesKind.Counter);
    private static readonly SeriesNature Gauge = new(SeriesKind.Gauge);

    // 8 July 2026, 00:00 in Boise.
    private static readonly DateTimeOffset Midnight = new(2026, 7, 8, 6, 0, 0, TimeSpan.Zero);

    [Fact]
    public void HourOf_counts_the_reading_at_midnight_to_the_day_before()
    {
        Always(Boise).HourOf(Midnight).Should().Be(new HourKey(Midnight.AddHours(-1), new DateOnly(2026, 7, 7), Here));
        Always(Boise).HourOf(Midnight.AddMilliseconds(1)).Should().Be(new HourKey(Midnight, new DateOnly(2026, 7, 8), Here));
    }

    [Fact]
    public void HourOf_counts_a_stay_after_its_start_up_to_its_end_and_the_rest_by_the_fleet_s_clock()
    {
        Whereabouts portable = new([new Stay(Here, Midnight, Midnight.AddHours(2), Boise)], TimeZoneInfo.Utc);

        portable.HourOf(Midnight).Placement.Should().BeNull();
        portable.HourOf(Midnight).Day.Should().Be(new DateOnly(2026, 7, 8), "the fleet counts in UTC here");
        portable.HourOf(Midnight.AddMinutes(1)).Placement.Should().Be(Here);
        portable.HourOf(Midnight.AddHours(2)).Placement.Should().Be(Here);
        portable.HourOf(Midnight.AddHours(2).AddMinutes(1)).Placement.Should().BeNull();
    }

    [Fact]
    public void Of_a_gauge_tells_count_range_sum_first_and_last()
    {
        HourRollUp hour = Hours(Gauge, null, (5, 12.5), (10, 12.0), (60, 13.0)).Should().ContainSingle().Subject;

        hour.Figures.Should().Be(new RollUpFigures(
            3, 12, 13, 37.5, 12.5, Midnight.AddMinutes(5), 13, Midnight.AddMinutes(60), 0, 0, 0, 0));
        hour.Figures.Mean.Should().Be(12.5);
    }

    [Fact]
    public void Of_a_counter_keeps_what_was_gained_within_the_hour_across_hours_and_across_days_apart()
    {
        IReadOnlyList<HourRollUp> hours = Hours(
            Counter, new Reading(Midnight.AddMinutes(-5), 10), (5, 12), (10, 15), (65, 22), (120, 23), (125, 24));

        hours.Select(hour => (hour.Figures.Known, hour.Figures.AcrossHours, hour.Figures.AcrossDays)).Should().Equal(
            (3, 0, 2), // 23:55 to 00:05 began on the day before
            (1, 7, 0), // 00:10 to 01:05 began an hour before
            (1, 0, 0)); // 02:00 to 02:05 began at this hour's start
        DayRollUp day = DayRollUp.Of([.. hours]);
        (day.Day, day.Figures.Known, day.Figures.AcrossHours, day.Figures.AcrossDays).Should().Be((new DateOnly(2026, 7, 8), 12, 0, 2));
        day.Figures.Gained.Should().Be(14);
    }

    [Fact]
    public void Of_a_counter_counts_nothing_for_its_very_first_reading() =>
        Hours(Counter, null, (5, 1200)).Single().Figures.Gained.Should().Be(0);

    [Fact]
    public void Of_a_counter_marks_a_restart_as_uncertain_and_counts_the_least()
    {
        RollUpFigures figures = Hours(Counter, new Reading(Midnight, 40), (5, 42), (10, 3), (15, 4)).Single().Figures;

        (figures.Known, figures.Uncertain).Should().Be((6, 1));
    }

    [Theory]
    [InlineData("2026-03-08", 23)]
    [InlineData("2026-07-08", 24)]
    [InlineData("2026-11-01", 25)]
    public void Of_makes_as_many_hours_as_the_local_day_has(string date, int hours)
    {
        UtcInterval day = LocalCalendar.Day(DateOnly.Parse(date, null), Boise);
        IReadOnlyList<HourRollUp> made = FiveMinutesThrough(day, Boise);

        made.Should().HaveCount(hours);
        made.Should().OnlyContain(hour => hour.Figures.Count == 12 && hour.Key.Day == DateOnly.Parse(date, null));
        DayRollUp.Of([.. made]).Figures.Count.Should().Be(hours * 12);
    }

    [Fact]
    public void Of_keeps_hours_apart_where_the_clock_goes_back_by_half_an_hour()
    {
        // Lord Howe Island goes from 02:00 back to 01:30 on 5 April 2026: the local hour from 01:00 lasts 60 + 30 minutes.
        UtcInterval day = LocalCalendar.Day(new DateOnly(2026, 4, 5), LordHowe);

        IReadOnlyList<HourRollUp> made = FiveMinutesThrough(day, LordHowe);

        made.Sum(hour => hour.Figures.Count).Should().Be(24 * 12 + 6);
        made.Select(hour => hour.Key.Start).Should().OnlyHaveUniqueItems().And.BeInAscendingOrder();
        made.Should().OnlyContain(hour =>
            hour.Figures.FirstAt > hour.Key.Start && hour.Figures.LastAt <= hour.Key.Start.AddHours(1));
    }

    [Fact]
    public void Of_does_not_depend_on_where_a_stretch_is_cut()
    {
        Gen<(int Gap, int Gain)[]> steps = Gen.Select(Gen.Int[1, 90], Gen.Int[-3, 9]).Array[2, 80];
        Gen.Select(steps, Gen.Int[1, 79]).Sample((walk, cut) =>
        {
            List<Reading> readings = Walk(walk);
            IReadOnlyList<HourRollUp> whole = HourRollUp.Of(readings, null, Counter, Always(Boise), UptimeLog.Empty);
            HourKey at = whole[cut % whole.Count].Key;
            Reading[] before = [.. readings.Where(reading => reading.At <= at.Start)];
            Reading[] after = [.. readings.Where(reading => reading.At > at.Start)];

            IReadOnlyList<HourRollUp> rest = HourRollUp.Of(
                after, before.Length == 0 ? null : before[^1], Counter, Always(Boise), UptimeLog.Empty);

            rest.Should().Equal(whole.Where(hour => hour.Key.Start >= at.Start));
        });
    }

    [Fact]
    public void Of_gains_what_was_truly_used_when_nothing_restarts_and_no_more_with_restarts_all_marked()
    {
        Gen<(int Gap, int Uses, bool Restart)[]> steps = Gen.Select(Gen.Int[1, 90], Gen.Int[0, 9], Gen.Int[0, 9].Select(n => n == 0)).Array[2, 80];
        steps.Sample(walk =>
        {
            // Right after a restart the first step's uses are lost to nobody: the total starts from nought and then counts them.
            List<Reading> readings = [];
            List<Reading> uptimes = [];
            (DateTimeOffset at, DateTimeOffset boot, double total, int truth, int restarts) = (Midnight, Midnight.AddDays(-1), 0, 0, 0);
            foreach ((int gap, int uses, bool restart) in walk)
            {
                DateTimeOffset next = at.AddMinutes(gap);
                if (restart && readings.Count > 0)
                {
                    (boot, total, restarts) = (at.AddSeconds(30), 0, restarts + 1);
                }

                total += uses;
                truth += readings.Count > 0 ? uses : 0;
                at = next;
                readings.Add(new Reading(at, total));
                uptimes.Add(new Reading(at, (at - boot).TotalSeconds));
            }

            RollUpFigures[] hours = [.. HourRollUp.Of(readings, null, Counter, Always(Boise), new UptimeLog(uptimes)).Select(hour => hour.Figures)];

            hours.Sum(figures => figures.Gained).Should().Be(truth);
            hours.Sum(figures => figures.Uncertain).Should().Be(restarts);
        });
    }

    private static List<Reading> Walk(IEnumerable<(int Gap, int Gain)> steps)
    {
        List<Reading> readings = [];
        (DateTimeOffset at, double total) = (Midnight, 0);
        foreach ((int gap, int gain) in steps)
        {
            (at, total) = (at.AddMinutes(gap), Math.Max(0, total + gain));
            readings.Add(new Reading(at, total));
        }

        return readings;
    }

    private static IReadOnlyList<HourRollUp> FiveMinutesThrough(UtcInterval day, TimeZoneInfo zone)
    {
        int steps = (int)(day.Length / TimeSpan.FromMinutes(5));
        return HourRollUp.Of(
            Enumerable.Range(1, steps).Select(i => new Reading(day.Start.AddMinutes(5 * i), i)), null, Gauge, Always(zone), UptimeLog.Empty);
    }

    private static IReadOnlyList<HourRollUp> Hours(SeriesNature series, Reading? previous, params (int Minute, double Value)[] readings) =>
        HourRollUp.Of(
            readings.Select(reading => new Reading(Midnight.AddMinutes(reading.Minute), reading.Value)),
            previous,
            series,
            Always(Boise),
            UptimeLog.Empty);

    private static Whereabouts Always(TimeZoneInfo zone) => new([new Stay(Here, DateTimeOffset.MinValue, null, zone)], TimeZoneInfo.Utc);
}
