using System.Globalization;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Cli;

/// <summary>One line of a long CSV file.</summary>
/// <param name="Received">When the server got it; null when the file has no such column.</param>
/// <param name="Measurement">What was measured.</param>
/// <param name="Unit">Its unit; empty when the file names none.</param>
/// <param name="Station">Whose it is; null when the file has no such column.</param>
internal readonly record struct LongCsvLine(DateTimeOffset? Received, Measurement Measurement, string Unit, string? Station = null);

/// <summary>The file is no long CSV; the message is a sentence for its writer.</summary>
internal sealed class LongCsvException(string message) : Exception(message);

/// <summary>
/// Files of measurements, a line each. The first line names the columns, in any order: <c>at,name,unit,value</c>, and if known
/// <c>received</c> and <c>station</c>.
/// </summary>
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
        LongCsvReader reader = new(path, Columns(file.ReadLine(), path));
        while (file.ReadLine() is { } line)
        {
            if (reader.Read(line) is { } read)
            {
                yield return read;
            }
        }
    }

    /// <summary>When the last line of a file was received (else measured), whatever its place; null without any.</summary>
    /// <exception cref="LongCsvException">A line is not what the header promises.</exception>
    public static DateTimeOffset? LastReceived(string path)
    {
        using StreamReader file = new(path);
        LongCsvReader reader = new(path, Columns(file.ReadLine(), path));
        DateTimeOffset? last = null;
        while (file.ReadLine() is { } line)
        {
            last = reader.ReceivedAt(line) is { } at && !(last >= at) ? at : last;
        }

        return last;
    }

    /// <summary>Whether a file says in a column of its own whose its rows are.</summary>
    public static bool HasStations(string path) => Columns(File.ReadLines(path).FirstOrDefault(), path).Station >= 0;

    private static LongCsvColumns Columns(string? header, string path) => LongCsvColumns.Of(header, path, $"'{Header}' or '{HeaderWithoutReceived}'");

    private static string Text(DateTimeOffset at) =>
        at.UtcDateTime.ToString(at.Millisecond == 0 ? "yyyy-MM-dd'T'HH:mm:ss'Z'" : "yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
