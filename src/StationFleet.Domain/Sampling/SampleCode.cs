using System.Globalization;

namespace StationFleet.Domain.Sampling;

/// <summary>The code on a jar, which a person can also write by hand without signal: station, local day, letter.</summary>
public static class SampleCode
{
    /// <summary>How many grabs of one station and day have a letter.</summary>
    public const int MostGrabs = 26;

    /// <summary>The day within a code: «260708».</summary>
    /// <param name="day">The local day.</param>
    public static string Day(DateOnly day) => day.ToString("yyMMdd", CultureInfo.InvariantCulture);

    /// <summary>«COP-1-260708-A», «COP-1-260708-BLANK», «COP-1-260708-PIECES2».</summary>
    /// <param name="station">The station's code.</param>
    /// <param name="day">The local day on which it was taken.</param>
    /// <param name="kind">What is in the jar.</param>
    /// <param name="number">Which one of its kind on that day, from 1 on.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is under 1, or there is no such letter.</exception>
    public static string Of(string station, DateOnly day, SampleKind kind, int number)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        if (kind == SampleKind.Grab)
        {
            ArgumentOutOfRangeException.ThrowIfGreaterThan(number, MostGrabs);
        }

        string mark = kind switch
        {
            SampleKind.Grab => ((char)('A' + number - 1)).ToString(),
            SampleKind.Blank => Numbered("BLANK"),
            SampleKind.Pieces => Numbered("PIECES"),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind."),
        };
        return $"{station}-{Day(day)}-{mark}";

        string Numbered(string word) => number == 1 ? word : string.Create(CultureInfo.InvariantCulture, $"{word}{number}");
    }
}
