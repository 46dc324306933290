using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Service;

/// <summary>A ticket put off until a day, by a person and for a reason; it ends by itself.</summary>
/// <param name="Until">When it ends.</param>
/// <param name="Day">That day, in words: «14 July».</param>
/// <param name="Who">Who put it off.</param>
/// <param name="Reason">Why.</param>
public sealed record Snooze(DateTimeOffset Until, string Day, string Who, string Reason)
{
    /// <summary>A ticket can be put off by so many local days at once [d]; who wants longer has to think again (common practice for shelved alarms, no source).</summary>
    public const int MostDays = 14;

    /// <summary>The longest reason [characters].</summary>
    public const int LongestReason = 500;

    /// <summary>«Snoozed until 14 July by Biologist: parts ordered».</summary>
    public string Sentence => $"Snoozed until {Day} by {Who}: {Reason}";

    /// <summary>When a snooze ends: as its day begins.</summary>
    /// <param name="day">The local day.</param>
    /// <param name="zone">The access's time zone.</param>
    public static DateTimeOffset EndOn(DateOnly day, TimeZoneInfo zone) => LocalCalendar.StartOf(day, zone);

    /// <summary>The note of the event: the day on the first line, then the reason.</summary>
    /// <param name="day">The local day.</param>
    /// <param name="reason">Why.</param>
    public static string Note(DateOnly day, string reason) => $"Until {Spoken(day)}.\n{reason}";

    /// <summary>The snooze that a ticket is in; null when it is in none.</summary>
    /// <param name="until">When the ticket's snooze ends; null: there is none.</param>
    /// <param name="who">Who began it.</param>
    /// <param name="note">What <see cref="Note"/> gave.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public static Snooze? Of(DateTimeOffset? until, string? who, string? note, DateTimeOffset now, TimeZoneInfo zone) =>
        until is { } end && end > now
            ? new Snooze(end, Spoken(LocalCalendar.DateOf(end, zone)), who ?? "somebody", note?.Split('\n', 2)[^1] ?? "")
            : null;

    private static string Spoken(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);
}
