using System.Globalization;
using System.Text.RegularExpressions;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Platform;

/// <summary>Reads what a person typed and notes, field by field, what cannot be taken.</summary>
internal sealed partial class Typed
{
    public WrongFields Wrong { get; } = [];

    public string Text(string field, string? typed, int longest, string whenEmpty)
    {
        string text = (typed ?? "").Trim();
        if (text.Length == 0)
        {
            Wrong.Note(field, whenEmpty);
        }
        else if (text.Length > longest)
        {
            Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Shorten it to {longest} characters."));
        }

        return text;
    }

    /// <summary>A number in a range; NaN when it cannot be taken.</summary>
    public double Number(string field, string? typed, double least, double most, string unit = "")
    {
        if (!double.TryParse((typed ?? "").Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
        {
            Wrong.Note(field, "Write a number, such as 12.5.");
            return double.NaN;
        }

        if (value < least || value > most)
        {
            string after = unit.Length == 0 ? "" : " " + unit;
            Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Write a number from {least:0.##} to {most:0.##}{after}."));
        }

        return value;
    }

    public double? NumberOrNothing(string field, string? typed, double least, double most, string unit = "") =>
        string.IsNullOrWhiteSpace(typed) ? null : Number(field, typed, least, most, unit);

    /// <summary>A local day, as a browser's date field writes it; the default when it cannot be taken.</summary>
    public DateOnly Day(string field, string? typed, DateOnly earliest, DateOnly latest)
    {
        if (!DateOnly.TryParseExact((typed ?? "").Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
        {
            Wrong.Note(field, "Write a date, such as 2026-07-04.");
            return default;
        }

        if (day < earliest || day > latest)
        {
            Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Write a date from {earliest:yyyy-MM-dd} to {latest:yyyy-MM-dd}."));
        }

        return day;
    }

    /// <summary>A time of day, as a browser's time field writes it; midnight when it cannot be taken.</summary>
    public TimeOnly Time(string field, string? typed)
    {
        if (!TimeOnly.TryParseExact((typed ?? "").Trim(), ["HH:mm", "H:mm", "HH:mm:ss"], CultureInfo.InvariantCulture, DateTimeStyles.None, out TimeOnly time))
        {
            Wrong.Note(field, "Write a time, such as 06:30.");
        }

        return time;
    }

    public TimeOnly? TimeOrNothing(string field, string? typed) => string.IsNullOrWhiteSpace(typed) ? null : Time(field, typed);

    /// <summary>A local date and time, as a browser's date field writes it; the default instant when it cannot be taken.</summary>
    public DateTimeOffset Instant(string field, string? typed, TimeZoneInfo zone)
    {
        if (!DateTime.TryParse(typed, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime local))
        {
            Wrong.Note(field, "Write a date and a time.");
            return default;
        }

        if (LocalCalendar.InstantAt(local, zone) is { } instant)
        {
            return instant;
        }

        Wrong.Note(field, "The clocks skip this time when they go forward: write one an hour later.");
        return default;
    }

    public DateTimeOffset? InstantOrNothing(string field, string? typed, TimeZoneInfo zone) =>
        string.IsNullOrWhiteSpace(typed) ? null : Instant(field, typed, zone);

    /// <summary>A name for addresses and reports: lower-case letters and digits with single hyphens between.</summary>
    public string Slug(string field, string? typed, int longest, string whenEmpty)
    {
        string slug = Text(field, typed, longest, whenEmpty);
        if (slug.Length > 0 && !SlugPattern().IsMatch(slug))
        {
            Wrong.Note(field, "Use lower-case letters, digits and hyphens, such as boot-brush.");
        }

        return slug;
    }

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$")]
    private static partial Regex SlugPattern();
}
