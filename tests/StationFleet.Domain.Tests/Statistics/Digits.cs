using System.Globalization;

namespace StationFleet.Domain.Tests.Statistics;

/// <summary>Holds a figure against a printed one, to every digit that is printed.</summary>
internal static class Digits
{
    // The shortest form of the expected number has the printed digits but for zeros at its end, which only makes the check looser.
    public static void Hold(double actual, double expected)
    {
        string printed = Math.Abs(expected).ToString("E16", CultureInfo.InvariantCulture);
        string shortest = Math.Abs(expected).ToString("R", CultureInfo.InvariantCulture);
        int digits = shortest.TrimStart('0', '.').Where(char.IsAsciiDigit).Count();
        int exponent = int.Parse(printed[(printed.IndexOf('E', StringComparison.Ordinal) + 1)..], CultureInfo.InvariantCulture);
        double unit = expected == 0 ? 1e-12 : Math.Pow(10, exponent - Math.Max(digits, 4) + 1);

        // Half a unit in the last place is rounding; the rest bears expected values that were cut instead of rounded.
        actual.Should().BeApproximately(expected, expected == 0 ? 1e-12 : 1.01 * unit);
    }
}
