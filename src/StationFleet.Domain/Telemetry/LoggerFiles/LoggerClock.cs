using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>Turns the times of one file into instants; it remembers the last one of each series, for the hour that comes twice.</summary>
/// <param name="layout">How times are written and by which clock.</param>
/// <param name="zone">The zone of that clock.</param>
internal sealed class LoggerClock(LoggerFileLayout layout, TimeZoneInfo zone)
{
    private static readonly string[] ClockTimes =
        ["H:mm:ss.FFFFFFF", "H:mm", "h:mm:ss.FFFFFFF tt", "h:mm tt", "h:mm:ss.FFFFFFFtt", "h:mmtt"];

    private static readonly Dictionary<LoggerTimeFormat, string[]> Written = new()
    {
        [LoggerTimeFormat.YearFirst] = WithClock("yyyy-M-d", "yyyy/M/d", "yyyy.M.d"),
        [LoggerTimeFormat.MonthFirst] = WithClock("M/d/yyyy", "M-d-yyyy", "M/d/yy"),
        [LoggerTimeFormat.DayFirst] = WithClock("d.M.yyyy", "d/M/yyyy", "d-M-yyyy", "d.M.yy", "d/M/yy"),
    };

    private readonly Dictionary<string, (DateTimeOffset At, bool IsNewestFirst)> _last = new(StringComparer.Ordinal);

    /// <summary>Whether a time format needs the zone of the logger's clock.</summary>
    public static bool IsLocal(LoggerTimeFormat format) =>
        format is LoggerTimeFormat.YearFirst or LoggerTimeFormat.MonthFirst or LoggerTimeFormat.DayFirst;

    /// <summary>Reads a date with its time of day as the logger's clock showed it; null when it is written otherwise.</summary>
    public static DateTime? Local(string text, LoggerTimeFormat format)
    {
        int letter = text.AsSpan().IndexOfAny('T', 't');
        bool isBetweenDigits = letter > 0 && letter + 1 < text.Length && char.IsAsciiDigit(text[letter - 1]) && char.IsAsciiDigit(text[letter + 1]);
        return DateTime.TryParseExact(
            isBetweenDigits ? $"{text[..letter]} {text[(letter + 1)..]}" : text,
            Written[format],
            CultureInfo.InvariantCulture,
            DateTimeStyles.AllowInnerWhite,
            out DateTime local)
            ? local
            : null;
    }

    /// <summary>The instant of a line.</summary>
    /// <param name="text">The time as it is written, date and time of day together.</param>
    /// <param name="series">The series that the line speaks of; for a wide table always the same.</param>
    /// <param name="at">The instant, cut to whole milliseconds.</param>
    /// <returns>Null when it was read; else why it cannot be.</returns>
    public string? Read(string text, string series, out DateTimeOffset at)
    {
        string? reason = Instant(text, series, out at);
        if (reason is null && IsLocal(layout.TimeFormat))
        {
            at = DateTimeOffset.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
            _last[series] = (at, _last.TryGetValue(series, out (DateTimeOffset At, bool IsNewestFirst) before) && at < before.At);
        }

        return reason;
    }

    private static string[] WithClock(params string[] dates) => [.. from date in dates from clock in ClockTimes select $"{date} {clock}"];

    private string? Instant(string text, string series, out DateTimeOffset at)
    {
        at = default;
        string shown = Excerpt.Of(text, 40);
        switch (layout.TimeFormat)
        {
            case LoggerTimeFormat.Rfc3339:
                return Rfc3339.TryParse(text, out at) ? null : $"'{shown}' is no RFC 3339 time such as 2026-07-08T13:05:00Z.";
            case LoggerTimeFormat.UnixSeconds or LoggerTimeFormat.UnixMilliseconds:
                return Unix(text, out at) ? null : $"'{shown}' is no time counted since 1970.";
            default:
                return Local(text, layout.TimeFormat) is { } local
                    ? OfClock(local, series, out at)
                    : $"'{shown}' is no time such as {Example(layout.TimeFormat)}.";
        }
    }

    private string? OfClock(DateTime local, string series, out DateTimeOffset at)
    {
        if (zone.IsInvalidTime(local))
        {
            at = default;
            return string.Create(
                CultureInfo.InvariantCulture,
                $"The clocks of {zone.Id} skip {local:HH:mm} on {local:d MMMM yyyy}: the logger's clock goes by another zone, or by an offset that never changes.");
        }

        if (!zone.IsAmbiguousTime(local))
        {
            at = new DateTimeOffset(local, zone.GetUtcOffset(local)).ToUniversalTime();
            return null;
        }

        TimeSpan[] offsets = zone.GetAmbiguousTimeOffsets(local);
        (DateTimeOffset first, DateTimeOffset second) =
            (new DateTimeOffset(local, offsets.Max()).ToUniversalTime(), new DateTimeOffset(local, offsets.Min()).ToUniversalTime());
        bool isSecond = layout.Repeated switch
        {
            RepeatedHour.First => false,
            RepeatedHour.Second => true,
            _ => _last.TryGetValue(series, out (DateTimeOffset At, bool IsNewestFirst) last) && (last.IsNewestFirst ? second < last.At : first <= last.At),
        };
        at = isSecond ? second : first;
        return null;
    }

    private bool Unix(string text, out DateTimeOffset at)
    {
        at = default;
        if (!decimal.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out decimal number))
        {
            return false;
        }

        decimal milliseconds = layout.TimeFormat == LoggerTimeFormat.UnixSeconds && number < 1e15m ? number * 1000 : number;
        if (milliseconds >= DateTimeOffset.MaxValue.ToUnixTimeMilliseconds())
        {
            return false;
        }

        at = DateTimeOffset.FromUnixTimeMilliseconds((long)milliseconds);
        return true;
    }

    private static string Example(LoggerTimeFormat format) => format switch
    {
        LoggerTimeFormat.YearFirst => "2026-07-02 06:00",
        LoggerTimeFormat.MonthFirst => "7/2/2026 6:00 AM",
        _ => "2.7.2026 06:00",
    };
}
