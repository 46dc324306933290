using System.Globalization;

namespace StationFleet.Domain.Time;

/// <summary>Times as RFC 3339 writes them: with an offset or Z.</summary>
public static class Rfc3339
{
    private const int LongestFraction = 7;   // a tick is the seventh digit

    /// <summary>Reads a time; parts of a millisecond are cut off.</summary>
    /// <param name="text">The text, such as <c>2026-07-08T13:05:00Z</c> or <c>2026-07-08 07:05:00.5-06:00</c>.</param>
    /// <param name="at">The instant, in UTC.</param>
    /// <returns>False when the text is written otherwise, or states no offset.</returns>
    public static bool TryParse(ReadOnlySpan<char> text, out DateTimeOffset at)
    {
        // By far the most usual form, read without the culture's machinery.
        if (text.Length == 20 && text[19] == 'Z' && text[4] == '-' && text[7] == '-' && text[10] == 'T' && text[13] == ':' && text[16] == ':'
            && Number(text, 0, 4) is var year and > 0 && Number(text, 5, 2) is var month and >= 1 and <= 12 && Number(text, 8, 2) is var day and >= 1
            && day <= DateTime.DaysInMonth(year, month) && Number(text, 11, 2) is var hour and >= 0 and < 24
            && Number(text, 14, 2) is var minute and >= 0 and < 60 && Number(text, 17, 2) is var second and >= 0 and < 60)
        {
            at = new DateTimeOffset(year, month, day, hour, minute, second, TimeSpan.Zero);
            return true;
        }

        at = default;
        if (text.Length < 20 || text[10] is not ('T' or 't' or ' '))
        {
            return false;
        }

        int end = 19;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || (end == 19 && text[end] == '.')))
        {
            end++;
        }

        ReadOnlySpan<char> clock = text[11..Math.Min(end, 20 + LongestFraction)];
        ReadOnlySpan<char> offset = text[end..] is "Z" or "z" ? "+00:00" : text[end..];
        if (!DateTimeOffset.TryParseExact(
            $"{text[..10]}T{clock}{offset}",
            "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz",
            CultureInfo.InvariantCulture,
            DateTimeStyles.AdjustToUniversal,
            out at))
        {
            return false;
        }

        at = new DateTimeOffset(at.UtcTicks - (at.UtcTicks % TimeSpan.TicksPerMillisecond), TimeSpan.Zero);
        return true;
    }

    private static int Number(ReadOnlySpan<char> text, int start, int length)
    {
        int number = 0;
        foreach (char digit in text.Slice(start, length))
        {
            if (!char.IsAsciiDigit(digit))
            {
                return -1;
            }

            number = (number * 10) + (digit - '0');
        }

        return number;
    }
}
