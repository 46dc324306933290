using System.Globalization;
using System.Text.RegularExpressions;

namespace StationFleet.Domain.Mail;

/// <summary>What a person wrote in answer to a mail, without what the mail program quoted.</summary>
public static partial class ReplyText
{
    /// <summary>The longest note that is kept [characters]; what is longer is cut.</summary>
    public const int LongestNote = 3900;

    private const string Cut = " … (cut)";

    /// <summary>What an answer asks for.</summary>
    /// <param name="IsTaking">Whether its first word is «taken».</param>
    /// <param name="Tickets">The ticket numbers named after it; empty: all that the mail was about.</param>
    /// <param name="Note">What else was written; may be empty.</param>
    public sealed record Wish(bool IsTaking, IReadOnlyList<int> Tickets, string Note);

    /// <summary>Takes quoted lines, the line that introduces them, and the signature off an answer.</summary>
    /// <param name="text">The plain text of the answer.</param>
    /// <remarks>
    /// Quoted lines begin with «>» (RFC 3676 §4.5), a signature with a line of two hyphens and a space (§4.3). The lines by which mail
    /// programs introduce what they quote are common practice, no source.
    /// </remarks>
    public static string Own(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] lines = text.ReplaceLineEndings("\n").Split('\n');
        int end = Array.FindIndex(lines, IsEnd);
        List<string> own = [.. end < 0 ? lines : lines[..end]];

        // An answer under or between the quoted lines counts too.
        bool isBefore = true;
        List<string> kept = [];
        foreach (string line in own)
        {
            if (line.TrimStart().StartsWith('>'))
            {
                if (isBefore)
                {
                    DropIntroduction(kept);
                }

                isBefore = false;
            }
            else
            {
                kept.Add(line.TrimEnd());
                isBefore = isBefore || line.Trim().Length > 0;
            }
        }

        if (end >= 0 && !lines[end].StartsWith("--", StringComparison.Ordinal))
        {
            DropIntroduction(kept, onlyKnown: true);
        }

        return BlankLines().Replace(string.Join('\n', kept).Trim(), "\n\n");
    }

    /// <summary>Reads what an answer asks for.</summary>
    /// <param name="own">What <see cref="Own"/> gave.</param>
    public static Wish Read(string own)
    {
        ArgumentNullException.ThrowIfNull(own);
        string text = own.Trim();
        Match taking = Taking().Match(text);
        if (!taking.Success)
        {
            return new Wish(false, [], Shorten(text));
        }

        int[] numbers =
        [
            .. Number().Matches(taking.Groups["tickets"].Value)
                .Select(match => int.Parse(match.Value, CultureInfo.InvariantCulture)).Distinct(),
        ];
        return new Wish(true, numbers, Shorten(text[taking.Length..].TrimStart(' ', '\t', '\n', '.', ',', ';', ':', '!', '-', '–', '—').TrimEnd()));
    }

    private static string Shorten(string note) => note.Length <= LongestNote ? note : note[..(LongestNote - Cut.Length)] + Cut;

    private static bool IsEnd(string line) => line is "-- " or "--" || Divider().IsMatch(line);

    // «On Wed, 8 Jul 2026 at 07:05, Fleet watch wrote:» may go over two or three lines.
    private static void DropIntroduction(List<string> kept, bool onlyKnown = false)
    {
        int last = kept.FindLastIndex(line => line.Trim().Length > 0);
        if (last < 0 || !kept[last].TrimEnd().EndsWith(':'))
        {
            return;
        }

        for (int first = last; first >= 0 && first > last - 4 && kept[first].Trim().Length > 0; first--)
        {
            if (Introduction().IsMatch(kept[first]))
            {
                kept.RemoveRange(first, kept.Count - first);
                return;
            }
        }

        if (!onlyKnown)
        {
            kept.RemoveRange(last, kept.Count - last);
        }
    }

    // «Taken», alone or before a stop, or with the tickets meant; «taken care of it» is a note.
    [GeneratedRegex(@"^taken\b(?<tickets>(?:[ \t,]|and\b|T-?(?=\d)|#(?=\d)|\d{1,8}\b)*)(?=[.,;:!–—\-\n]|$)", RegexOptions.IgnoreCase)]
    private static partial Regex Taking();

    [GeneratedRegex(@"\d{1,8}")]
    private static partial Regex Number();

    [GeneratedRegex(@"^\s*(-{2,}\s*(Original Message|Forwarded message)\s*-{2,}|_{10,})\s*$", RegexOptions.IgnoreCase, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Divider();

    [GeneratedRegex(@"^\s*On\s.*(\d|wrote)", RegexOptions.IgnoreCase, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Introduction();

    [GeneratedRegex(@"\n{3,}")]
    private static partial Regex BlankLines();
}
