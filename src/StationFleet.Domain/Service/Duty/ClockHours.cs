using StationFleet.Domain.Time;

namespace StationFleet.Domain.Service.Duty;

/// <summary>A stretch of the local day, such as 07:00 to 17:00, or over midnight, such as 20:00 to 06:30.</summary>
/// <param name="From">When it begins, by the access's clock.</param>
/// <param name="To">When it ends; the same as <paramref name="From"/> means the whole day.</param>
public sealed record ClockHours(TimeOnly From, TimeOnly To)
{
    /// <summary>Whether it goes on past midnight.</summary>
    public bool IsOverMidnight => To <= From;

    /// <summary>The stretch that begins on a local date, as an interval; a beginning or end that the clocks skip comes when they have.</summary>
    /// <param name="date">The local date on which it begins.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>The interval; null when the clock change leaves nothing of it.</returns>
    public UtcInterval? On(DateOnly date, TimeZoneInfo zone)
    {
        DateTimeOffset start = LocalCalendar.ReachedAt(date, From, zone);
        DateTimeOffset end = LocalCalendar.ReachedAt(IsOverMidnight ? date.AddDays(1) : date, To, zone);
        return start < end ? new UtcInterval(start, end) : null;
    }

    /// <summary>The end of the stretch that an instant lies in; the instant itself when it lies in none.</summary>
    /// <param name="instant">Any instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public DateTimeOffset Leave(DateTimeOffset instant, TimeZoneInfo zone)
    {
        if (From == To)
        {
            return instant; // all day would be for ever: such hours hold nobody back
        }

        DateOnly today = LocalCalendar.DateOf(instant, zone);
        foreach (DateOnly date in new[] { today.AddDays(-1), today })
        {
            if (On(date, zone) is { } stretch && stretch.Contains(instant))
            {
                return stretch.End;
            }
        }

        return instant;
    }
}
