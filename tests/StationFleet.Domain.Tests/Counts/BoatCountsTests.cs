using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Counts;

public sealed class BoatCountsTests
{
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    // Two whole weeks, Monday 1 June to Sunday 14 June 2026: 10 weekdays and 4 days of weekends.
    private static readonly UtcInterval Weeks = new(LocalCalendar.StartOf(new DateOnly(2026, 6, 1), Zone), LocalCalendar.StartOf(new DateOnly(2026, 6, 15), Zone));

    [Fact]
    public void Hours_of_each_kind_are_those_of_required_time_from_six_to_nine_in_the_evening()
    {
        UtcInterval closed = new(Local(6, 10), Local(6, 14));   // a Saturday, two hours of the morning and two after noon

        double[] hours = [.. CountHours.All.Select(kind => kind.In(Weeks, Intervals.Without(Weeks, [closed]), Zone))];

        hours.Should().Equal(10 * 6, 10 * 9, (4 * 6) - 2, (4 * 9) - 2);
    }

    [Fact]
    [Source("Scheaffer, Mendenhall and Ott, oranges, ch. 6 (data from memory): the same ratio estimate, with its limits by Fieller")]
    public void Boats_are_the_seasons_uses_divided_by_uses_per_boat()
    {
        // Hundredths and thousandths of the book's weights and sugar, as boats and uses: r = 0.0565517 · 10.
        int[] uses = [21, 30, 25, 22, 33, 27, 19, 21, 23, 25];
        int[] boats = [40, 48, 43, 42, 50, 46, 39, 41, 42, 44];
        CountShift[] shifts = [.. uses.Zip(boats, (used, all) => Shift(6, 8, 12, leaving: 60, at: all, used))];

        BoatCounts counts = BoatCounts.Of("COP-1", shifts, Weeks, [Weeks], Zone, 1000);

        Digits(counts.UsesPerBoat!.Value, 0.565517241, 0.523503104, 0.603046226);
        Digits(counts.Boats!.Value, 1000 / 0.565517241, 1000 / 0.603046226, 1000 / 0.523503104);

        static void Digits(Bounded figure, double value, double low, double high)
        {
            figure.Value.Should().BeApproximately(value, 1e-6 * value);
            figure.Low.Should().BeApproximately(low, 1e-6 * low);
            figure.High.Should().BeApproximately(high, 1e-6 * high);
        }
    }

    [Fact]
    public void Hours_without_a_shift_are_told_and_never_stood_for()
    {
        CountShift[] shifts = [Shift(6, 8, 12, 40, 10, 18), Shift(7, 8, 11, 30, 9, 14), Shift(6, 13, 17, 60, 12, 25), Shift(14, 13, 17, 50, 13, 20)];

        BoatCounts counts = BoatCounts.Of("COP-1", shifts, Weeks, [Weeks], Zone, 900);

        counts.Missing.Select(part => part.Kind.Words).Should().Equal("weekday mornings", "weekday afternoons");
        counts.Coverage.Should().BeApproximately(60.0 / 210, 1e-12);

        // Weekend mornings: 24 h of 10 and 2.714 boats an hour; afternoons 36 h of 13.75 and 3.125.
        double morning = 24 / 7.0;
        double afternoon = 36 / 8.0;
        counts.Share!.Share.Value.Should().BeApproximately(((19 * morning) + (25 * afternoon)) / ((70 * morning) + (110 * afternoon)), 1e-12);
        CountWords.Missing(counts).Should().Equal("COP-1: no shift on weekday mornings (60 h) and weekday afternoons (90 h). The share says nothing of these.");
    }

    [Fact]
    public void Too_few_shifts_give_no_figure_and_say_so()
    {
        BoatCounts none = BoatCounts.Of("COP-1", [], Weeks, [Weeks], Zone, 900);
        BoatCounts one = BoatCounts.Of("COP-1", [Shift(6, 8, 12, 40, 10, 18)], Weeks, [Weeks], Zone, 900);
        BoatCounts unwatched = BoatCounts.Of("COP-1", [Shift(6, 8, 12, 40, 10, null), Shift(7, 8, 12, 40, 12, null)], Weeks, [Weeks], Zone, 900);

        CountWords.Headline(none).Should().Be("Nobody has counted boats yet.");
        (one.Share, one.Boats, one.UsesPerBoat).Should().Be((null, null, null));
        CountWords.Headline(one).Should().Be("The shifts are too few to tell a share or boats.");
        CountWords.Missing(one).Should().Contain(sentence => sentence.StartsWith("COP-1: too few shifts with tool uses", StringComparison.Ordinal));
        unwatched.Share.Should().NotBeNull("boats were counted, if not tools");
        unwatched.Boats.Should().BeNull();
    }

    [Fact]
    public void Stations_together_add_their_boats_and_name_those_that_cannot_tell()
    {
        CountShift[] shifts = [Shift(6, 8, 12, 40, 10, 18), Shift(7, 8, 12, 30, 9, 16), Shift(13, 8, 12, 35, 11, 21)];
        BoatCounts first = BoatCounts.Of("COP-1", shifts, Weeks, [Weeks], Zone, 900);
        BoatCounts second = BoatCounts.Of("OTT-1", shifts, Weeks, [Weeks], Zone, 300);
        BoatCounts third = BoatCounts.Of("SOR-1", shifts[..1], Weeks, [Weeks], Zone, 300);

        BoatCounts all = BoatCounts.Together([first, second, third, BoatCounts.None]);

        all.Boats!.Value.Value.Should().BeApproximately(first.Boats!.Value.Value + second.Boats!.Value.Value, 1e-9);
        all.WithoutBoats.Should().Equal("SOR-1");
        all.Shifts.Should().HaveCount(7);
    }

    [Fact]
    public void Limits_of_boats_cover_in_invented_seasons()
    {
        foreach (int shifts in (int[])[6, 12, 30])
        {
            const int runs = 1000;
            (int covered, int told) = (0, 0);
            for (int run = 0; run < runs; run++)
            {
                Dice dice = Dice.For(77, "boats", (1000 * shifts) + run);
                CountShift[] counted = [.. Enumerable.Range(0, shifts).Select(_ =>
                {
                    int at = dice.Poisson(dice.Erlang(4, 9));
                    double extra = dice.Erlang(6, 0.8);   // some days people take more tools
                    return Shift(6, 8, 12, at + dice.Poisson(20), at, Enumerable.Range(0, at).Sum(_ => 1 + dice.Poisson(extra)));
                })];
                Bounded? boats = BoatCounts.Of("COP-1", counted, Weeks, [Weeks], Zone, 1800).Boats;
                told += boats is null ? 0 : 1;
                covered += boats is { } limits && limits.Low <= 1000 && 1000 <= limits.High ? 1 : 0;
            }

            told.Should().BeGreaterThan(runs * 9 / 10);
            ((double)covered / told).Should().BeGreaterThan(0.92, $"{shifts} shifts of invented boats that use 1.8 tools each");
        }
    }

    private static CountShift Shift(int day, int from, int to, int leaving, int at, int? uses) => new(new StationId(1), Local(day, from), Local(day, to), leaving, at, uses);

    private static DateTimeOffset Local(int day, int hour) => LocalCalendar.InstantAt(new DateTime(2026, 6, day, hour, 0, 0), Zone)!.Value;
}
