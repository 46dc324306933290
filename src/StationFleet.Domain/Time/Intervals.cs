namespace StationFleet.Domain.Time;

/// <summary>Arithmetic on sets of intervals; a set is in order of time, without overlaps, and may be empty.</summary>
public static class Intervals
{
    /// <summary>Every instant that lies in at least one of the intervals.</summary>
    /// <param name="intervals">Intervals in any order; may overlap or touch.</param>
    /// <returns>The fewest intervals that hold the same instants.</returns>
    public static IReadOnlyList<UtcInterval> Union(IEnumerable<UtcInterval> intervals)
    {
        List<UtcInterval> merged = [];
        foreach (UtcInterval next in intervals.OrderBy(interval => interval.Start))
        {
            if (merged.Count == 0 || merged[^1].End < next.Start)
            {
                merged.Add(next);
            }
            else if (merged[^1].End < next.End)
            {
                merged[^1] = new UtcInterval(merged[^1].Start, next.End);
            }
        }

        return merged;
    }

    /// <summary>Every instant of one interval that lies in none of the others.</summary>
    /// <param name="whole">The interval to cut from.</param>
    /// <param name="holes">What to cut out: in any order; may overlap or reach beyond.</param>
    public static IReadOnlyList<UtcInterval> Without(UtcInterval whole, IEnumerable<UtcInterval> holes)
    {
        ArgumentNullException.ThrowIfNull(whole);
        List<UtcInterval> left = [];
        DateTimeOffset from = whole.Start;
        foreach (UtcInterval hole in Union(holes))
        {
            if (hole.Start > from && from < whole.End)
            {
                left.Add(new UtcInterval(from, hole.Start < whole.End ? hole.Start : whole.End));
            }

            from = hole.End > from ? hole.End : from;
        }

        if (from < whole.End)
        {
            left.Add(new UtcInterval(from, whole.End));
        }

        return left;
    }

    /// <summary>How long an interval shares its time with a set.</summary>
    /// <param name="interval">Any interval.</param>
    /// <param name="set">A set: in order, without overlaps.</param>
    public static TimeSpan SharedLength(UtcInterval interval, IReadOnlyList<UtcInterval> set)
    {
        ArgumentNullException.ThrowIfNull(interval);
        return Sum(set.Select(interval.Intersect).OfType<UtcInterval>());
    }

    /// <summary>The lengths of a set together.</summary>
    /// <param name="set">A set: in order, without overlaps.</param>
    public static TimeSpan Sum(IEnumerable<UtcInterval> set) => TimeSpan.FromTicks(set.Sum(interval => interval.Length.Ticks));
}
