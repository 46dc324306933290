using System.Globalization;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary>The file is no long CSV; the message is a sentence for its writer.</summary>
internal sealed class LongCsvException(string message) : Exception(message);

/// <summary>
/// Files of measurements in our own layout, a line each. The first line names the columns, in any order: <c>at,name,unit,value</c>,
/// and if known <c>received</c> and <c>station</c>.
/// </summary>
internal static class LongCsv
{
    public const string Header = LoggerFileLayout.OwnHeaderWithReceived;

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

    /// <summary>Reads a file line by line; its first fault ends it.</summary>
    /// <exception cref="LongCsvException">A line is not what the header promises.</exception>
    public static IEnumerable<LoggerLine.Reading> Read(string path)
    {
        LoggerFileLayout layout = LayoutOf(path);
        using StreamReader file = LoggerFileText.Open(path);
        foreach (LoggerLine line in LoggerFileReader.Read(file, layout))
        {
            yield return line as LoggerLine.Reading
                ?? throw new LongCsvException(string.Create(
                    CultureInfo.InvariantCulture, $"{path}, line {line.Line}: {((LoggerLine.Fault)line).Reason}"));
        }
    }

    /// <summary>When the last line of a file was received (else measured), whatever its place; null without any.</summary>
    /// <exception cref="LongCsvException">A line is not what the header promises.</exception>
    public static DateTimeOffset? LastReceived(string path) => Read(path).Max(row => (DateTimeOffset?)(row.Received ?? row.At));

    /// <summary>Whether a file says in a column of its own whose its rows are.</summary>
    public static bool HasStations(string path) => LayoutOf(path).Station is not null;

    private static LoggerFileLayout LayoutOf(string path) =>
        (LoggerFileText.FirstLines(path, 1) is [var header] ? LoggerFileLayout.Own(header) : null)
        ?? throw new LongCsvException($"{path} does not begin with '{Header}' or '{LoggerFileLayout.OwnHeader}'.");

    private static string Text(DateTimeOffset at) =>
        at.UtcDateTime.ToString(at.Millisecond == 0 ? "yyyy-MM-dd'T'HH:mm:ss'Z'" : "yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
