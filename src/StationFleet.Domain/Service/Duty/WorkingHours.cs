using StationFleet.Domain.Time;

namespace StationFleet.Domain.Service.Duty;

/// <summary>The hours of a week in which people are expected to read their mail.</summary>
/// <param name="Days">The working days.</param>
/// <param name="Hours">From when until when, by the access's clock.</param>
public sealed record WorkingHours(Weekdays Days, ClockHours Hours)
{
    private const int MostDays = 400;

    /// <summary>The instant at which so much working time has passed.</summary>
    /// <param name="from">Where to begin.</param>
    /// <param name="time">How much working time; 0 or more.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>The instant; never, <see cref="DateTimeOffset.MaxValue"/>, when no day is a working day.</returns>
    public DateTimeOffset After(DateTimeOffset from, TimeSpan time, TimeZoneInfo zone)
    {
        if (time <= TimeSpan.Zero)
        {
            return from;
        }

        TimeSpan left = time;
        DateOnly date = LocalCalendar.DateOf(from, zone).AddDays(-1);
        for (int i = 0; i < MostDays; i++, date = date.AddDays(1))
        {
            if (!Days.Has(date.DayOfWeek) || Hours.On(date, zone) is not { } stretch || stretch.End <= from)
            {
                continue;
            }

            DateTimeOffset start = stretch.Start > from ? stretch.Start : from;
            if (stretch.End - start >= left)
            {
                return start + left;
            }

            left -= stretch.End - start;
        }

        return DateTimeOffset.MaxValue;
    }
}
