using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>Reads a logger's file line by line; a line that cannot be read is told with its number and does not stop the others.</summary>
public static class LoggerFileReader
{
    private const int LongestText = 500;

    // What loggers write where they have no reading.
    private static readonly HashSet<string> NoReading =
        new(["", "-", "--", "---", "NA", "N/A", "NaN", "null"], StringComparer.OrdinalIgnoreCase);

    /// <summary>Reads a file.</summary>
    /// <param name="file">The file's text, from its beginning.</param>
    /// <param name="layout">How it is laid out; its zone must be one that <see cref="LoggerZone"/> finds.</param>
    /// <returns>Readings and faults in the order of the lines; empty lines are left out.</returns>
    /// <exception cref="ArgumentException">The layout's zone is not known.</exception>
    public static IEnumerable<LoggerLine> Read(TextReader file, LoggerFileLayout layout)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(layout);
        TimeZoneInfo zone = LoggerZone.Find(layout.Zone) ?? throw new ArgumentException($"The zone '{layout.Zone}' is not known.", nameof(layout));
        return ReadLines(file, layout, new LoggerClock(layout, zone));
    }

    private static IEnumerable<LoggerLine> ReadLines(TextReader file, LoggerFileLayout layout, LoggerClock clock)
    {
        int first = layout.LinesBefore + (layout.HasHeader ? 1 : 0);
        Dictionary<string, string> names = new(StringComparer.Ordinal);   // each kept once: a season has some 400 000 lines
        for (int number = 1; file.ReadLine() is { } line; number++)
        {
            if (number <= first || string.IsNullOrWhiteSpace(line))
            {
                continue;
            }

            if (CsvLine.Split(line, layout.Delimiter) is not { } cells)
            {
                yield return Fault(number, line, "A quote is not closed on its line.");
                continue;
            }

            if (layout.Columns is LoggerColumns.Listed listed)
            {
                yield return ListedLine(number, line, cells, layout, listed, clock, names);
                continue;
            }

            foreach (LoggerLine read in TableLine(number, line, cells, layout, (LoggerColumns.Table)layout.Columns, clock))
            {
                yield return read;
            }
        }
    }

    private static LoggerLine ListedLine(
        int number, string line, IReadOnlyList<string> cells, LoggerFileLayout layout, LoggerColumns.Listed columns, LoggerClock clock,
        Dictionary<string, string> names)
    {
        int last = LastOf(layout, columns);
        if (cells.Count <= last)
        {
            return Fault(number, line, TooFew(last, cells.Count));
        }

        string name = Once(cells[columns.Name].Trim(), names);
        string? station = layout.Station is { } column ? cells[column].Trim() : null;
        if (name.Length == 0)
        {
            return Fault(number, line, "The name is empty: a name and a finite number are wanted.");
        }

        if (WrongTime(cells, layout, name, clock, out DateTimeOffset at, out DateTimeOffset? received) is { } wrongTime)
        {
            return Fault(number, line, wrongTime);
        }

        string? unit = columns.Unit is { } unitColumn ? Once(cells[unitColumn], names) : null;
        LoggerLine? reading = Value(cells[columns.Value], layout) is { } value
            ? ReadingOf(number, received, name, at, unit, value, station)
            : null;
        return reading ?? Fault(number, line, WrongValue(cells[columns.Value]));
    }

    private static IEnumerable<LoggerLine> TableLine(
        int number, string line, IReadOnlyList<string> cells, LoggerFileLayout layout, LoggerColumns.Table columns, LoggerClock clock)
    {
        int last = Math.Max(layout.Time, layout.Clock ?? 0);
        if (cells.Count <= last)
        {
            yield return Fault(number, line, TooFew(last, cells.Count));
            yield break;
        }

        if (WrongTime(cells, layout, "", clock, out DateTimeOffset at, out DateTimeOffset? received) is { } wrongTime)
        {
            yield return Fault(number, line, wrongTime);
            yield break;
        }

        foreach (SeriesColumn series in columns.Series)
        {
            if (cells.Count <= series.Column)
            {
                yield return Fault(number, line, $"{series.Name}: {TooFew(series.Column, cells.Count)}");
            }
            else if (!NoReading.Contains(cells[series.Column].Trim()))
            {
                yield return Value(cells[series.Column], layout) is { } value
                    ? ReadingOf(number, received, series.Name, at, series.Unit, value)
                    : Fault(number, line, $"{series.Name}: {WrongValue(cells[series.Column])}");
            }
        }
    }

    private static string? WrongTime(
        IReadOnlyList<string> cells, LoggerFileLayout layout, string series, LoggerClock clock, out DateTimeOffset at, out DateTimeOffset? received)
    {
        received = null;
        string text = layout.Clock is { } apart ? $"{cells[layout.Time].Trim()} {cells[apart].Trim()}" : cells[layout.Time].Trim();
        if (clock.Read(text, series, out at) is { } wrong)
        {
            return wrong;
        }

        if (layout.Received is { } column && cells.Count > column && cells[column].Trim() is { Length: > 0 } arrival)
        {
            if (!Rfc3339.TryParse(arrival, out DateTimeOffset arrived))
            {
                return $"'{Excerpt.Of(arrival, 40)}' is no RFC 3339 time such as 2026-07-08T13:05:00Z.";
            }

            received = arrived;
        }

        return null;
    }

    private static LoggerLine.Reading ReadingOf(
        int number, DateTimeOffset? received, string name, DateTimeOffset at, string? unit, double value, string? station = null)
    {
        (string? symbol, double inSymbol) = LoggerUnits.InSenml(name, unit, value);
        return new LoggerLine.Reading(number, received, name, at, symbol, inSymbol) { Station = station };
    }

    private static double? Value(string cell, LoggerFileLayout layout)
    {
        string text = layout.HasDecimalComma ? cell.Replace(',', '.') : cell;
        return double.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : null;
    }

    private static string Once(string text, Dictionary<string, string> texts)
    {
        if (!texts.TryGetValue(text, out string? known))
        {
            known = text;
            texts.Add(text, text);
        }

        return known;
    }

    private static int LastOf(LoggerFileLayout layout, LoggerColumns.Listed columns) => Math.Max(
        Math.Max(Math.Max(layout.Time, layout.Clock ?? 0), Math.Max(layout.Received ?? 0, layout.Station ?? 0)),
        Math.Max(Math.Max(columns.Name, columns.Unit ?? 0), columns.Value));

    private static string WrongValue(string cell) => $"'{Excerpt.Of(cell.Trim(), 40)}' is no number; a finite number is wanted.";

    private static string TooFew(int last, int count) =>
        string.Create(CultureInfo.InvariantCulture, $"{last + 1} values are wanted, but there are {count}.");

    private static LoggerLine.Fault Fault(int number, string line, string reason) => new(number, reason, Excerpt.Of(line, LongestText));
}
