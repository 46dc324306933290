using System.Globalization;

namespace StationFleet.Cli;

/// <summary>Times as RFC 3339 writes them.</summary>
internal static class Rfc3339
{
    /// <summary>Reads a time; parts of a millisecond are cut off.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out DateTimeOffset at)
    {
        // 2026-07-08T13:05:00Z, by far the most usual form, read without the culture's machinery.
        if (text.Length == 20 && text[19] == 'Z' && text[4] == '-' && text[7] == '-' && text[10] == 'T' && text[13] == ':' && text[16] == ':'
            && Number(text, 0, 4) is var year and > 0 && Number(text, 5, 2) is var month and >= 1 and <= 12 && Number(text, 8, 2) is var day and >= 1
            && day <= DateTime.DaysInMonth(year, month) && Number(text, 11, 2) is var hour and >= 0 and < 24
            && Number(text, 14, 2) is var minute and >= 0 and < 60 && Number(text, 17, 2) is var second and >= 0 and < 60)
        {
            at = new DateTimeOffset(year, month, day, hour, minute, second, TimeSpan.Zero);
            return true;
        }

        const DateTimeStyles Universal = DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal;
        if (text.Length < 20 || !DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, Universal, out at))
        {
            at = default;
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
