using System.Globalization;

namespace StationFleet.Domain.Grants;

/// <summary>Words and days as the pages of awards and equipment write them.</summary>
public static class GrantWords
{
    /// <summary>What stands on each page and export.</summary>
    public const string TermsPrevail = "The award's own terms prevail over what this program reckons.";

    /// <summary>«InUse» reads «In use».</summary>
    /// <param name="word">An enum's value.</param>
    public static string Spoken<TWord>(TWord word)
        where TWord : struct, Enum => string.Concat(word.ToString().Select((letter, place) =>
            place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : letter.ToString()));

    /// <summary>«30 Jul 2026».</summary>
    /// <param name="day">The day.</param>
    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>Names with their shares: one alone without its 100 %.</summary>
    /// <param name="holders">The owners or sources.</param>
    public static string List(IReadOnlyList<Shareholder> holders)
    {
        ArgumentNullException.ThrowIfNull(holders);
        return holders is [{ } only]
            ? only.Name
            : string.Join("; ", holders.Select(holder => $"{holder.Name} {holder.Share}"));
    }
}
