namespace StationFleet.Domain.Time;

/// <summary>A stretch of time that includes its start and leaves out its end: [start, end).</summary>
public sealed record UtcInterval
{
    /// <summary>Makes an interval from two instants, held in UTC.</summary>
    /// <param name="start">The first instant inside.</param>
    /// <param name="end">The first instant after it.</param>
    /// <exception cref="ArgumentException">The end does not lie after the start.</exception>
    public UtcInterval(DateTimeOffset start, DateTimeOffset end)
    {
        if (end <= start)
        {
            throw new ArgumentException("The end must lie after the start.", nameof(end));
        }

        (Start, End) = (start.ToUniversalTime(), end.ToUniversalTime());
    }

    /// <summary>The first instant inside.</summary>
    public DateTimeOffset Start { get; }

    /// <summary>The first instant after the interval.</summary>
    public DateTimeOffset End { get; }

    /// <summary>The interval's length; always positive.</summary>
    public TimeSpan Length => End - Start;

    /// <summary>Whether an instant lies inside.</summary>
    /// <param name="instant">Any instant.</param>
    public bool Contains(DateTimeOffset instant) => Start <= instant && instant < End;

    /// <summary>The part shared with another interval, or null when there is none.</summary>
    /// <param name="other">Any interval.</param>
    public UtcInterval? Intersect(UtcInterval other)
    {
        ArgumentNullException.ThrowIfNull(other);
        DateTimeOffset start = Start > other.Start ? Start : other.Start;
        DateTimeOffset end = End < other.End ? End : other.End;
        return start < end ? new UtcInterval(start, end) : null;
    }
}
