using System.Globalization;

namespace StationFleet.Domain.Time;

/// <summary>Instants as people say them, in the local time of an access.</summary>
public static class SpokenTime
{
    private static readonly CultureInfo English = CultureInfo.GetCultureInfo("en-US");

    /// <summary>How long ago something was: «just now», «4 min ago», «3 h ago», «yesterday 16:20», «Sunday 14:10», «12 June 09:00».</summary>
    /// <param name="instant">When it was.</param>
    /// <param name="now">The present.</param>
    /// <param name="zone">The reader's zone.</param>
    public static string Ago(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        TimeSpan age = now - instant;
        return age switch
        {
            _ when age < TimeSpan.Zero => At(instant, now, zone),
            { TotalMinutes: < 1 } => "just now",
            { TotalMinutes: < 60 } => string.Create(English, $"{Math.Floor(age.TotalMinutes):0} min ago"),
            { TotalHours: < 6 } => string.Create(English, $"{Math.Floor(age.TotalHours):0} h ago"),
            _ => At(instant, now, zone),
        };
    }

    /// <summary>When something was: «today 05:20», «yesterday 16:20», «Sunday 14:10» within the last six days, else «12 June 09:00», with the year when it is another.</summary>
    /// <param name="instant">When it was.</param>
    /// <param name="now">The present.</param>
    /// <param name="zone">The reader's zone.</param>
    public static string At(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        DateTimeOffset local = TimeZoneInfo.ConvertTime(instant, zone);
        string clock = local.ToString("HH:mm", English);
        return $"{Day(DateOnly.FromDateTime(local.DateTime), LocalCalendar.DateOf(now, zone))} {clock}";
    }

    /// <summary>A local date: «today», «yesterday», «tomorrow», «Sunday» within six days before, else «12 June» or «12 June 2025».</summary>
    /// <param name="date">The date.</param>
    /// <param name="today">The present local date.</param>
    public static string Day(DateOnly date, DateOnly today) => (today.DayNumber - date.DayNumber) switch
    {
        0 => "today",
        1 => "yesterday",
        -1 => "tomorrow",
        > 1 and <= 6 => date.ToString("dddd", English),
        _ when date.Year == today.Year => date.ToString("d MMMM", English),
        _ => date.ToString("d MMMM yyyy", English),
    };

    /// <summary>The full line over a page: «Wednesday 8 July, 07:05».</summary>
    /// <param name="instant">The instant.</param>
    /// <param name="zone">The reader's zone.</param>
    public static string Line(DateTimeOffset instant, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(instant, zone).ToString("dddd d MMMM, HH:mm", English);
}
