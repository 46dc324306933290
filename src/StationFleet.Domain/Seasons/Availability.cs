using StationFleet.Domain.Time;

namespace StationFleet.Domain.Seasons;

/// <summary>One failure of a station.</summary>
/// <param name="Began">When it began, as the watch saw it.</param>
/// <param name="Restored">When the station worked again; null while it does not.</param>
/// <param name="ActiveWork">Work at the station, without driving and waiting; null when nobody wrote it down.</param>
public sealed record Failure(DateTimeOffset Began, DateTimeOffset? Restored, TimeSpan? ActiveWork);

/// <summary>How well an item was there when it was required, over a window of time.</summary>
/// <param name="RequiredTime">RT: time in which it had to work.</param>
/// <param name="DownTime">DT: required time in which it did not; 0 to <paramref name="RequiredTime"/>.</param>
/// <param name="DownIntervals">Stretches of down time; overlapping failures make one.</param>
/// <param name="Failures">n: failures that began in the window and touched required time.</param>
/// <param name="Restored">Of these, the ones restored by the window's end.</param>
/// <param name="RestorationTime">Required time from failure to restoration, summed over the restored ones.</param>
/// <param name="RepairsNoted">The restored failures whose active work somebody wrote down.</param>
/// <param name="ActiveWork">Their active work together.</param>
/// <remarks>
/// Terms: IEC 60050-192 (192-01-23 availability, 192-02-21 down time, 192-07-23 mean time to restoration) and EN 15341:2019 M10
/// (availability over required time). A mean of nothing is null, not zero or infinite.
/// </remarks>
public sealed record Availability(
    TimeSpan RequiredTime,
    TimeSpan DownTime,
    int DownIntervals,
    int Failures,
    int Restored,
    TimeSpan RestorationTime,
    int RepairsNoted,
    TimeSpan ActiveWork)
{
    /// <summary>Nothing was required and nothing failed.</summary>
    public static Availability None { get; } = new(TimeSpan.Zero, TimeSpan.Zero, 0, 0, 0, TimeSpan.Zero, 0, TimeSpan.Zero);

    /// <summary>UT = RT − DT.</summary>
    public TimeSpan UpTime => RequiredTime - DownTime;

    /// <summary>A = UT / RT, 0 to 1; null when nothing was required.</summary>
    public double? Share => RequiredTime > TimeSpan.Zero ? UpTime / RequiredTime : null;

    /// <summary>MTBF = UT / n; null without a failure.</summary>
    public TimeSpan? MeanTimeBetweenFailures => Mean(UpTime, Failures);

    /// <summary>Mean time to restoration, waiting and driving included; null when nothing was restored.</summary>
    public TimeSpan? MeanTimeToRestoration => Mean(RestorationTime, Restored);

    /// <summary>Mean active repair, without waiting and driving; null when nobody wrote any down.</summary>
    public TimeSpan? MeanActiveRepair => Mean(ActiveWork, RepairsNoted);

    /// <summary>MDT = DT / number of down intervals; null without any.</summary>
    public TimeSpan? MeanDownTime => Mean(DownTime, DownIntervals);

    /// <summary>Failures that began in the window and still lasted at its end: in DT, not in the mean time to restoration.</summary>
    public int StillOpen => Failures - Restored;

    /// <summary>Judges one item over a window.</summary>
    /// <param name="window">The window, such as a season up to now.</param>
    /// <param name="required">When it had to work: in any order, may overlap; the part outside the window is left out.</param>
    /// <param name="failures">Its failures in any order; may overlap, begin before the window, or last.</param>
    /// <remarks>
    /// A failure that began before the window adds down time but is no failure of this window, and its time to restoration is
    /// left out, since part of it lies in the window before. An unrestored one is cut at the window's end.
    /// </remarks>
    public static Availability Over(UtcInterval window, IEnumerable<UtcInterval> required, IReadOnlyCollection<Failure> failures)
    {
        ArgumentNullException.ThrowIfNull(window);
        ArgumentNullException.ThrowIfNull(failures);
        IReadOnlyList<UtcInterval> mustWork = Intervals.Union(required.Select(window.Intersect).OfType<UtcInterval>());
        TimeSpan[] down = [.. Intervals.Union(failures.Select(failure => DownIn(window, failure)).OfType<UtcInterval>())
            .Select(interval => Intervals.SharedLength(interval, mustWork))
            .Where(length => length > TimeSpan.Zero)];
        Failure[] counted = [.. failures.Where(failure => window.Contains(failure.Began) && Touches(failure))];
        Failure[] restored = [.. counted.Where(failure => failure.Restored <= window.End)];
        Failure[] noted = [.. restored.Where(failure => failure.ActiveWork is not null)];

        return new Availability(
            Intervals.Sum(mustWork), Sum(down), down.Length, counted.Length, restored.Length,
            Sum(restored.Select(RequiredDown)), noted.Length, Sum(noted.Select(failure => failure.ActiveWork!.Value)));

        TimeSpan RequiredDown(Failure failure) =>
            DownIn(window, failure) is { } interval ? Intervals.SharedLength(interval, mustWork) : TimeSpan.Zero;

        bool Touches(Failure failure) =>
            mustWork.Any(interval => interval.Contains(failure.Began)) || RequiredDown(failure) > TimeSpan.Zero;
    }

    /// <summary>The figures of several items together: their times and counts added up.</summary>
    /// <param name="items">One for each item.</param>
    public static Availability Together(IEnumerable<Availability> items) => items.Aggregate(None, (sum, item) => new Availability(
        sum.RequiredTime + item.RequiredTime, sum.DownTime + item.DownTime, sum.DownIntervals + item.DownIntervals,
        sum.Failures + item.Failures, sum.Restored + item.Restored, sum.RestorationTime + item.RestorationTime,
        sum.RepairsNoted + item.RepairsNoted, sum.ActiveWork + item.ActiveWork));

    private static UtcInterval? DownIn(UtcInterval window, Failure failure)
    {
        DateTimeOffset end = failure.Restored ?? window.End;
        return failure.Began < end ? new UtcInterval(failure.Began, end).Intersect(window) : null;
    }

    private static TimeSpan? Mean(TimeSpan sum, int count) => count > 0 ? sum / count : null;

    private static TimeSpan Sum(IEnumerable<TimeSpan> lengths) => TimeSpan.FromTicks(lengths.Sum(length => length.Ticks));
}
