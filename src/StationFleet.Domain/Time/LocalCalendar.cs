namespace StationFleet.Domain.Time;

/// <summary>Days, hours and seasons as they are counted at an access, whose time zone decides.</summary>
public static class LocalCalendar
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    /// <summary>The local date that an instant falls on.</summary>
    /// <param name="instant">Any instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public static DateOnly DateOf(DateTimeOffset instant, TimeZoneInfo zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(instant, zone).DateTime);

    /// <summary>A local day as an interval: 23, 24 or 25 hours long.</summary>
    /// <param name="date">The local date.</param>
    /// <param name="zone">The access's time zone.</param>
    public static UtcInterval Day(DateOnly date, TimeZoneInfo zone) => new(StartOf(date, zone), StartOf(date.AddDays(1), zone));

    /// <summary>The first instant of a local date; where midnight is skipped by the clock change, the first instant after the gap.</summary>
    /// <param name="date">The local date.</param>
    /// <param name="zone">The access's time zone.</param>
    public static DateTimeOffset StartOf(DateOnly date, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        DateTime midnight = date.ToDateTime(TimeOnly.MinValue);
        while (zone.IsInvalidTime(midnight))
        {
            midnight = midnight.AddMinutes(15);
        }

        // An ambiguous midnight happens twice; the day starts at the first, which has the larger offset.
        TimeSpan offset = zone.IsAmbiguousTime(midnight) ? zone.GetAmbiguousTimeOffsets(midnight).Max() : zone.GetUtcOffset(midnight);
        return new DateTimeOffset(midnight, offset).ToUniversalTime();
    }

    /// <summary>The start of the local clock hour that an instant falls in.</summary>
    /// <param name="instant">Any instant.</param>
    /// <param name="zone">The access's time zone; zones with half-hour offsets get hours that start on their own clock.</param>
    public static DateTimeOffset HourStart(DateTimeOffset instant, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        TimeSpan offset = zone.GetUtcOffset(instant);
        long local = instant.UtcTicks + offset.Ticks;
        return new DateTimeOffset(local - (local % Hour.Ticks) - offset.Ticks, TimeSpan.Zero);
    }

    /// <summary>The instant at which the clocks at an access show a date and time; of a time that comes twice, the first.</summary>
    /// <param name="local">A date and time by the access's clock; its kind is ignored.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>The instant, in UTC; null when the clocks skip that time.</returns>
    public static DateTimeOffset? InstantAt(DateTime local, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        DateTime clock = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        if (zone.IsInvalidTime(clock))
        {
            return null;
        }

        TimeSpan offset = zone.IsAmbiguousTime(clock) ? zone.GetAmbiguousTimeOffsets(clock).Max() : zone.GetUtcOffset(clock);
        return new DateTimeOffset(clock, offset).ToUniversalTime();
    }

    /// <summary>The instant at which the clocks at an access reach a time of day; where they skip it, the first instant after the gap.</summary>
    /// <param name="date">The local date.</param>
    /// <param name="time">The time of day; of one that comes twice, the first.</param>
    /// <param name="zone">The access's time zone.</param>
    public static DateTimeOffset ReachedAt(DateOnly date, TimeOnly time, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        DateTime local = date.ToDateTime(time);
        if (InstantAt(local, zone) is { } instant)
        {
            return instant;
        }

        // No gap is known to be longer than a day, and gaps begin and end on whole minutes.
        DateTime after = local.AddSeconds(-local.Second).AddMinutes(1);
        while (zone.IsInvalidTime(after))
        {
            after = after.AddMinutes(1);
        }

        return InstantAt(after, zone)!.Value;
    }
}
