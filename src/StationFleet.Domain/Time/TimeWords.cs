using System.Globalization;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Time;

/// <summary>
/// Instants and lengths of time in sentences that may be read on another day, in a mail: so never «today» or «yesterday», which
/// <see cref="SpokenTime"/> says on pages.
/// </summary>
public static class TimeWords
{
    private const int DaysByName = 6;

    /// <summary>An instant as it is told: the weekday and time within the last six days, else the date.</summary>
    /// <param name="instant">The instant; not after <paramref name="now"/>, or a little.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>«Sunday 14:10», «28 June», or «28 June 2025» in another year.</returns>
    public static string When(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        DateTimeOffset local = TimeZoneInfo.ConvertTime(instant, zone);
        DateOnly today = LocalCalendar.DateOf(now, zone);
        int daysAgo = today.DayNumber - DateOnly.FromDateTime(local.DateTime).DayNumber;
        string format = daysAgo is >= -1 and <= DaysByName ? "dddd HH:mm" : local.Year == today.Year ? "d MMMM" : "d MMMM yyyy";
        return local.ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>The day of an instant as it is told in a sentence: its date, with the year if it is another one.</summary>
    /// <param name="instant">The instant.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>«3 July», or «28 June 2025» in another year.</returns>
    public static string Day(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        DateOnly day = LocalCalendar.DateOf(instant, zone);
        return day.ToString(day.Year == LocalCalendar.DateOf(now, zone).Year ? "d MMMM" : "d MMMM yyyy", CultureInfo.InvariantCulture);
    }

    /// <summary>A coming day: the weekday within the next six days, else the date.</summary>
    /// <param name="instant">The instant; not before <paramref name="now"/>, or a little.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>«Thursday», «18 July», or «3 January 2027» in another year.</returns>
    public static string DayAhead(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        (DateOnly day, DateOnly today) = (LocalCalendar.DateOf(instant, zone), LocalCalendar.DateOf(now, zone));
        return day.DayNumber - today.DayNumber is >= 0 and <= DaysByName ? day.ToString("dddd", CultureInfo.InvariantCulture) : Day(instant, now, zone);
    }

    /// <summary>A part of a coming day: «Friday afternoon», or «18 July, in the afternoon».</summary>
    /// <param name="instant">The instant.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public static string PartOfDayAhead(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        string day = DayAhead(instant, now, zone);
        string part = TimeZoneInfo.ConvertTime(instant, zone).Hour switch
        {
            < 5 => "night",
            < 12 => "morning",
            < 17 => "afternoon",
            < 22 => "evening",
            _ => "night",
        };
        return char.IsDigit(day[0]) ? $"{day}, in the {part}".Replace("in the night", "at night", StringComparison.Ordinal) : $"{day} {part}";
    }

    /// <summary>A length of time in one fitting unit: «15 minutes», «3 hours», «5 days».</summary>
    /// <param name="length">The length; 0 or more.</param>
    public static string Length(TimeSpan length) => length switch
    {
        { TotalMinutes: < 90 } => Of(length.TotalMinutes, "minute"),
        { TotalHours: < 36 } => Of(length.TotalHours, "hour"),
        _ => Of(length.TotalDays, "day"),
    };

    private static string Of(double amount, string unit)
    {
        double whole = Math.Round(amount);
        return $"{NumberWords.Figures(whole)} {unit}{(whole == 1 ? "" : "s")}";
    }
}
