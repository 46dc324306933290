using System.Globalization;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Cli;

/// <summary>One line of a long CSV file.</summary>
/// <param name="Received">When the server got it; null when the file has no such column.</param>
/// <param name="Measurement">What was measured.</param>
/// <param name="Unit">Its unit; empty when the file names none.</param>
internal readonly record struct LongCsvLine(DateTimeOffset? Received, Measurement Measurement, string Unit);

/// <summary>The file is no long CSV; the message is a sentence for its writer.</summary>
internal sealed class LongCsvException(string message) : Exception(message);

/// <summary>Files of one station's measurements, a line each: <c>[received,]at,name,unit,value</c>.</summary>
internal static class LongCsv
{
    public const string Header = "received,at,name,unit,value";
    private const string HeaderWithoutReceived = "at,name,unit,value";

    public static void Write(TextWriter file, SimulatedReport report)
    {
        string received = Text(report.Received);
        foreach (Measurement measurement in report.Measurements)
        {
            file.Write(received);
            file.Write(',');
            file.Write(Text(measurement.At));
            file.Write(',');
            file.Write(measurement.Name);
            file.Write(',');
            file.Write(SenmlWriter.UnitOf(measurement.Name));
            file.Write(',');
            file.WriteLine(measurement.Value.ToString("R", CultureInfo.InvariantCulture));
        }
    }

    /// <summary>Reads a file line by line.</summary>
    /// <exception cref="LongCsvException">A line is not what the header promises.</exception>
    public static IEnumerable<LongCsvLine> Read(string path)
    {
        using StreamReader file = new(path);
        string? header = file.ReadLine()?.TrimStart('\uFEFF').Trim();
        if (header is not (Header or HeaderWithoutReceived))
        {
            throw new LongCsvException($"{path} does not begin with '{Header}' or '{HeaderWithoutReceived}'.");
        }

        int number = 1;
        int first = header == Header ? 1 : 0;
        while (file.ReadLine() is { } line)
        {
            number++;
            if (line.Length == 0)
            {
                continue;
            }

            string[] cells = line.Split(',');
            if (cells.Length != first + 4)
            {
                throw new LongCsvException($"{path}, line {number}: {first + 4} values are wanted, but there are {cells.Length}.");
            }

            DateTimeOffset? received = first == 1 ? Instant(cells[0], path, number) : null;
            DateTimeOffset at = Instant(cells[first], path, number);
            if (cells[first + 1].Length == 0
                || !double.TryParse(cells[first + 3], NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
                || !double.IsFinite(value))
            {
                throw new LongCsvException($"{path}, line {number}: a name and a finite number are wanted.");
            }

            yield return new LongCsvLine(received, new Measurement(cells[first + 1], at, value), cells[first + 2]);
        }
    }

    private static DateTimeOffset Instant(string cell, string path, int number) =>
        cell.Length >= 20 && DateTimeOffset.TryParse(cell, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal, out DateTimeOffset at)
            ? at
            : throw new LongCsvException($"{path}, line {number}: '{cell}' is no RFC 3339 time such as 2026-07-08T13:05:00Z.");

    private static string Text(DateTimeOffset at) =>
        at.UtcDateTime.ToString(at.Millisecond == 0 ? "yyyy-MM-dd'T'HH:mm:ss'Z'" : "yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
