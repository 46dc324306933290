using System.Globalization;

namespace StationFleet.Domain.Quantities;

/// <summary>Numbers as people read them in a sentence.</summary>
public static class NumberWords
{
    private static readonly string[] Words =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

    /// <summary>A count: in words up to twelve, in figures above.</summary>
    /// <param name="count">The count; 0 or more.</param>
    public static string Count(int count) => count < Words.Length ? Words[count] : Figures(count);

    /// <summary>A number in figures, with a comma between thousands and no decimals.</summary>
    /// <param name="value">The number.</param>
    public static string Figures(double value) => value.ToString("#,##0", CultureInfo.InvariantCulture);

    /// <summary>A number in figures, with one decimal while it is under ten.</summary>
    /// <param name="value">The number.</param>
    public static string Brief(double value) =>
        Math.Abs(value) < 9.95 ? value.ToString("0.#", CultureInfo.InvariantCulture) : Figures(value);

    /// <summary>A number rounded to so many significant digits, with a comma between thousands.</summary>
    /// <param name="value">The number.</param>
    /// <param name="digits">1 to 15.</param>
    public static string Significant(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return Figures(value);
        }

        int decimals = digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        double unit = Math.Pow(10, -decimals);
        return (Math.Round(value / unit) * unit).ToString(decimals > 0 ? "#,##0." + new string('#', decimals) : "#,##0", CultureInfo.InvariantCulture);
    }

    /// <summary>A share as a percentage.</summary>
    /// <param name="share">The share; 1 is all.</param>
    public static string Percent(double share) => $"{Figures(100 * share)} %";

    /// <summary>The sentence with its first letter as a capital.</summary>
    /// <param name="sentence">The sentence.</param>
    public static string Capital(string sentence)
    {
        ArgumentNullException.ThrowIfNull(sentence);
        return sentence.Length == 0 ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }
}
