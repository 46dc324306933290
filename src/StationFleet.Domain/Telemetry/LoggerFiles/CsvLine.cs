using System.Text;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>
/// Cells of one line, quoted as in RFC 4180. A quoted cell ends on its line: a logger writes no line breaks into a cell, and a stray
/// quote must not swallow the rest of the file.
/// </summary>
public static class CsvLine
{
    /// <summary>Cuts a line into its cells.</summary>
    /// <param name="line">The line, without its end.</param>
    /// <param name="delimiter">The character between cells.</param>
    /// <returns>At least one cell; null when a quote is not closed, or something follows it other than a delimiter.</returns>
    public static IReadOnlyList<string>? Split(string line, char delimiter)
    {
        ArgumentNullException.ThrowIfNull(line);
        if (!line.Contains('"', StringComparison.Ordinal))
        {
            return line.Split(delimiter);
        }

        List<string> cells = [];
        int at = 0;
        while (true)
        {
            if (at < line.Length && line[at] == '"')
            {
                if (Quoted(line, ref at) is not { } cell || (at < line.Length && line[at] != delimiter))
                {
                    return null;
                }

                cells.Add(cell);
            }
            else
            {
                int end = line.IndexOf(delimiter, at);
                cells.Add(end < 0 ? line[at..] : line[at..end]);
                at = end < 0 ? line.Length : end;
            }

            if (at == line.Length)
            {
                return cells;
            }

            at++;
        }
    }

    // A doubled quote inside is one quote. Leaves the place after the closing one.
    private static string? Quoted(string line, ref int at)
    {
        StringBuilder cell = new();
        for (at++; at < line.Length; at++)
        {
            if (line[at] != '"')
            {
                cell.Append(line[at]);
            }
            else if (at + 1 < line.Length && line[at + 1] == '"')
            {
                cell.Append('"');
                at++;
            }
            else
            {
                at++;
                return cell.ToString();
            }
        }

        return null;
    }
}
