namespace StationFleet.Domain.Seasons;

/// <summary>Joins what several tickets say of one station: it is down once, however many tickets are open.</summary>
public static class StationFailures
{
    /// <summary>Joins failures that overlap or touch into one, with their work added up.</summary>
    /// <param name="failures">Failures of one station, in any order.</param>
    /// <returns>Failures in order of time, without overlaps; only the last may be unrestored.</returns>
    public static IReadOnlyList<Failure> Join(IEnumerable<Failure> failures)
    {
        List<Failure> joined = [];
        foreach (Failure next in failures.OrderBy(failure => failure.Began))
        {
            if (joined.Count > 0 && (joined[^1].Restored is not { } restored || next.Began <= restored))
            {
                Failure last = joined[^1];
                joined[^1] = new Failure(last.Began, Later(last.Restored, next.Restored), Sum(last.ActiveWork, next.ActiveWork));
            }
            else
            {
                joined.Add(next);
            }
        }

        return joined;
    }

    private static DateTimeOffset? Later(DateTimeOffset? one, DateTimeOffset? other) =>
        one is null || other is null ? null : one > other ? one : other;

    private static TimeSpan? Sum(TimeSpan? one, TimeSpan? other) => one is null ? other : other is null ? one : one + other;
}
