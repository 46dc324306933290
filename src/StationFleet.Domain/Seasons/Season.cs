using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Seasons;

/// <summary>A day of the year without its year, such as 1 May.</summary>
/// <param name="Month">1 to 12.</param>
/// <param name="Day">1 to 31.</param>
public readonly record struct MonthDay(int Month, int Day)
{
    /// <summary>Reads <c>MM-dd</c>.</summary>
    /// <param name="text">Such as <c>05-01</c>.</param>
    /// <returns>The day, or null when the text is none.</returns>
    public static MonthDay? Parse(string? text) =>
        DateOnly.TryParseExact($"2000-{text}", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date)
            ? new MonthDay(date.Month, date.Day)
            : null;

    /// <summary>The day in a year; 29 February becomes the 28th where there is none.</summary>
    /// <param name="year">The year.</param>
    public DateOnly In(int year) => new(year, Month, Math.Min(Day, DateTime.DaysInMonth(year, Month)));
}

/// <summary>One season: the local days from its first to its last, both included.</summary>
/// <param name="Year">The year it is called by: the one it starts in.</param>
/// <param name="FirstDay">The first local day.</param>
/// <param name="LastDay">The last local day.</param>
public sealed record Season(int Year, DateOnly FirstDay, DateOnly LastDay)
{
    /// <summary>Days that a person named, such as a fiscal year, rather than a season.</summary>
    public bool IsRange { get; init; }

    /// <summary>Days that a person named.</summary>
    /// <param name="first">The first.</param>
    /// <param name="last">The last; not before the first.</param>
    public static Season Range(DateOnly first, DateOnly last) => new(first.Year, first, last) { IsRange = true };

    /// <summary>The same days one year earlier.</summary>
    public Season YearBefore => this with { Year = Year - 1, FirstDay = FirstDay.AddYears(-1), LastDay = LastDay.AddYears(-1) };

    /// <summary>The season of a year; one that ends earlier in the year than it starts runs into the next year.</summary>
    /// <param name="year">The year it starts in.</param>
    /// <param name="first">Its first day.</param>
    /// <param name="last">Its last day.</param>
    public static Season Of(int year, MonthDay first, MonthDay last)
    {
        DateOnly end = last.In(year);
        return new Season(year, first.In(year), end < first.In(year) ? last.In(year + 1) : end);
    }

    /// <summary>Whether a local day belongs to the season.</summary>
    /// <param name="day">A local day.</param>
    public bool Contains(DateOnly day) => FirstDay <= day && day <= LastDay;

    /// <summary>The season at an access up to an instant, or null when it has not begun by then.</summary>
    /// <param name="zone">The access's time zone.</param>
    /// <param name="until">Nothing from this instant on is counted.</param>
    public UtcInterval? Window(TimeZoneInfo zone, DateTimeOffset until)
    {
        DateTimeOffset start = LocalCalendar.StartOf(FirstDay, zone);
        DateTimeOffset end = LocalCalendar.StartOf(LastDay.AddDays(1), zone);
        end = until < end ? until : end;
        return start < end ? new UtcInterval(start, end) : null;
    }
}
