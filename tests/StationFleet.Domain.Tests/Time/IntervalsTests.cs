using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Time;

public sealed class IntervalsTests
{
    private static readonly DateTimeOffset Start = new(2026, 7, 1, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Union_joins_what_overlaps_or_touches() =>
        Intervals.Union([At(5, 8), At(0, 2), At(2, 3), At(6, 7)]).Should().Equal(At(0, 3), At(5, 8));

    [Fact]
    public void Without_cuts_holes_that_overlap_and_reach_beyond() =>
        Intervals.Without(At(0, 10), [At(-5, 1), At(3, 5), At(4, 6), At(9, 20)]).Should().Equal(At(1, 3), At(6, 9));

    [Fact]
    public void Without_leaves_nothing_under_a_hole_that_covers_all() =>
        Intervals.Without(At(0, 10), [At(-1, 11)]).Should().BeEmpty();

    [Fact]
    public void Union_and_Without_agree_with_counting_hour_by_hour()
    {
        Random random = new(20261125);
        for (int trial = 0; trial < 300; trial++)
        {
            UtcInterval[] some = [.. Enumerable.Range(0, random.Next(8)).Select(_ => random.Next(-5, 40)).Select(from => At(from, from + 1 + random.Next(9)))];
            bool[] inSome = [.. Enumerable.Range(0, 48).Select(hour => some.Any(interval => interval.Contains(Start.AddHours(hour))))];

            IReadOnlyList<UtcInterval> left = Intervals.Without(At(0, 48), some);

            Intervals.SharedLength(At(0, 48), Intervals.Union(some)).TotalHours.Should().Be(inSome.Count(inside => inside));
            Intervals.Sum(left).TotalHours.Should().Be(inSome.Count(inside => !inside));
            left.Should().BeInAscendingOrder(interval => interval.Start);
        }
    }

    private static UtcInterval At(int fromHour, int toHour) => new(Start.AddHours(fromHour), Start.AddHours(toHour));
}
