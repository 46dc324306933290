using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>How a file seems to be laid out: a proposal that a person looks at before anything is stored.</summary>
/// <param name="Layout">The layout; null when no line holds a time and a value.</param>
/// <param name="Headings">What each column is called; its number where the file has no header.</param>
public sealed record LayoutGuess(LoggerFileLayout? Layout, IReadOnlyList<string> Headings)
{
    /// <summary>So many lines are enough for a guess.</summary>
    public const int LinesLookedAt = 60;

    private const int MostLinesBefore = 30;
    private static readonly char[] Delimiters = [',', ';', '\t', '|'];
    private static readonly string[] ReceivedWords = ["received"];
    private static readonly string[] NameWords = ["name", "series", "sensor", "channel", "parameter", "measurement", "variable"];
    private static readonly string[] UnitWords = ["unit", "units"];
    private static readonly string[] ValueWords = ["value", "reading", "result", "data"];

    /// <summary>Guesses from a file's first lines.</summary>
    /// <param name="lines">The first lines, at most <see cref="LinesLookedAt"/> are looked at.</param>
    /// <param name="zone">The zone of a logger's clock unless the times tell: that of the place where the station stands.</param>
    /// <param name="known">Names that the station already measures; a column called like one is taken for it.</param>
    /// <param name="delimiter">The character between cells, when somebody knows it; null guesses it, too.</param>
    public static LayoutGuess Of(IReadOnlyList<string> lines, string zone, IReadOnlyCollection<string> known, char? delimiter = null)
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(known);
        string[] head = [.. lines.Take(LinesLookedAt)];
        if (delimiter is null or ',' && LoggerFileLayout.Own(head.FirstOrDefault()) is { } own)
        {
            return new LayoutGuess(own, LoggerFileLayout.OwnColumns(head[0]));
        }

        (char between, int width) = DelimiterOf(head, delimiter is { } given ? [given] : Delimiters);
        int start = Array.FindIndex(head, line => Cells(line, between).Count == width);
        if (width < 2 || start < 0 || start > MostLinesBefore)
        {
            return new LayoutGuess(null, []);
        }

        IReadOnlyList<string> first = Cells(head[start], between);
        IReadOnlyList<string>[] rows = [.. head.Skip(start).Select(line => Cells(line, between)).Where(cells => cells.Count == width)];
        bool hasHeader = !first.Any(cell => LooksLikeTime(cell) || Number(cell, between) is not null);
        IReadOnlyList<string>[] data = hasHeader ? rows[1..] : rows;
        IReadOnlyList<string> headings = hasHeader
            ? [.. first.Select(cell => cell.TrimStart('\uFEFF').Trim())]
            : [.. first.Select((_, column) => string.Create(CultureInfo.InvariantCulture, $"column {column + 1}"))];
        if (data.Length == 0 || TimeColumn(data, headings) is not var (time, clock, format))
        {
            return new LayoutGuess(null, headings);
        }

        int[] taken = clock is { } apart ? [time, apart] : [time];
        bool hasDecimalComma = between != ',' && data.Any(row => row.Where((_, column) => !taken.Contains(column)).Any(HasComma));
        int[] others = [.. Enumerable.Range(0, width).Except(taken)];
        LoggerColumns? columns = ListedColumns(data, headings, others, between) is { } listed ? listed : TableColumns(data, headings, others, between, known);
        return new LayoutGuess(
            columns is null
                ? null
                : new LoggerFileLayout(
                    between,
                    hasDecimalComma,
                    start,
                    hasHeader,
                    format,
                    LoggerClock.IsLocal(format) ? zone : "UTC",
                    RepeatedHour.ByOrder,
                    time,
                    clock,
                    Received: null,
                    Station: null,
                    columns),
            headings);
    }

    private static IReadOnlyList<string> Cells(string line, char delimiter) => CsvLine.Split(line, delimiter) ?? [];

    // The delimiter by which most lines have the same number of cells, and that number.
    private static (char Delimiter, int Width) DelimiterOf(IReadOnlyList<string> lines, char[] candidates) => candidates
        .Select(delimiter => (Delimiter: delimiter, Widths: lines.Select(line => Cells(line, delimiter).Count).Where(width => width > 1).ToList()))
        .Where(candidate => candidate.Widths.Count > 0)
        .Select(candidate => (candidate.Delimiter, Most: candidate.Widths.GroupBy(width => width).MaxBy(group => (group.Count(), group.Key))!))
        .OrderByDescending(candidate => candidate.Most.Count())
        .ThenBy(candidate => candidate.Delimiter == ',')   // a decimal comma may look like one
        .Select(candidate => (candidate.Delimiter, candidate.Most.Key))
        .FirstOrDefault((',', 0));

    private static (int Time, int? Clock, LoggerTimeFormat Format)? TimeColumn(IReadOnlyList<string>[] data, IReadOnlyList<string> headings)
    {
        foreach (int column in Enumerable.Range(0, headings.Count))
        {
            string[] cells = [.. data.Select(row => row[column].Trim())];
            if (FormatOf(cells) is { } whole && !ReceivedWords.Contains(headings[column], StringComparer.OrdinalIgnoreCase))
            {
                return (column, null, whole);
            }

            if (column + 1 < headings.Count && FormatOf([.. data.Select(row => $"{row[column].Trim()} {row[column + 1].Trim()}")]) is { } apart)
            {
                return (column, column + 1, apart);
            }
        }

        return null;
    }

    // Three of four lines must agree: a broken line must not hide the format. Of two that fit equally, the first: month before day.
    private static LoggerTimeFormat? FormatOf(string[] cells)
    {
        int needed = Math.Max(1, cells.Length * 3 / 4);
        (LoggerTimeFormat format, int fits) = Enum.GetValues<LoggerTimeFormat>()
            .Select(format => (Format: format, Fits: cells.Count(cell => IsTime(cell, format))))
            .MaxBy(candidate => candidate.Fits);
        return fits >= needed ? format : null;
    }

    private static bool IsTime(string cell, LoggerTimeFormat format) => format switch
    {
        LoggerTimeFormat.Rfc3339 => Rfc3339.TryParse(cell, out _),
        LoggerTimeFormat.UnixSeconds => IsBetween(cell, 1e9, 4e9),
        LoggerTimeFormat.UnixMilliseconds => IsBetween(cell, 1e12, 4e12),
        _ => LoggerClock.Local(cell, format) is not null,
    };

    private static bool IsBetween(string cell, double least, double most) =>
        double.TryParse(cell, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number) && least <= number && number <= most;

    private static bool LooksLikeTime(string cell) => FormatOf([cell.Trim()]) is not null;

    private static LoggerColumns.Listed? ListedColumns(IReadOnlyList<string>[] data, IReadOnlyList<string> headings, int[] columns, char delimiter)
    {
        int? name = Called(headings, columns, NameWords);
        int? value = Called(headings, columns, ValueWords);
        if (name is null || value is null)
        {
            // Without words: one column of text and one of numbers.
            int[] text = [.. columns.Where(column => data.All(row => row[column].Trim().Length > 0 && Number(row[column], delimiter) is null))];
            int[] numbers = [.. columns.Where(column => data.All(row => Number(row[column], delimiter) is not null))];
            bool isClear = text.Length is 1 or 2 && numbers.Length == 1 && columns.Length == text.Length + 1;
            (name, value) = (isClear ? text[0] : null, isClear ? numbers[0] : null);
        }

        if (name is not { } names || value is not { } values)
        {
            return null;
        }

        int? unit = Called(headings, columns, UnitWords) ?? columns.Where(column => column != names && column != values)
            .Where(column => data.All(row => row[column].Trim().Length is > 0 and < 12 && Number(row[column], delimiter) is null))
            .Select(column => (int?)column).FirstOrDefault();
        return new LoggerColumns.Listed(names, unit, values);
    }

    private static LoggerColumns.Table? TableColumns(
        IReadOnlyList<string>[] data, IReadOnlyList<string> headings, int[] columns, char delimiter, IReadOnlyCollection<string> known)
    {
        SeriesColumn[] series = [.. columns
            .Where(column => data.Any(row => Number(row[column], delimiter) is not null))
            .Select(column => SeriesGuess.Of(column, headings[column], known))];
        return series.Length == 0 ? null : new LoggerColumns.Table(series);
    }

    private static int? Called(IReadOnlyList<string> headings, int[] columns, string[] words) => columns
        .Where(column => words.Contains(headings[column], StringComparer.OrdinalIgnoreCase)).Select(column => (int?)column).FirstOrDefault();

    private static bool HasComma(string cell) =>
        cell.Count(c => c == ',') == 1 && double.TryParse(cell.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out _);

    private static double? Number(string cell, char delimiter) => double.TryParse(
        delimiter == ',' ? cell.Trim() : cell.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
        && double.IsFinite(number) ? number : null;
}
