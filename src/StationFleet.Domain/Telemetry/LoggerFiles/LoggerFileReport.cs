namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>Makes reports of what stands in a logger's file, by the same rules as a station's own.</summary>
public static class LoggerFileReport
{
    // Secondary units are taken: whoever labels a column writes mV.
    internal const int Version = SenmlDecoder.BaseVersion | SenmlDecoder.SecondaryUnitsFeature;

    /// <summary>Reads some lines as a report of a station.</summary>
    /// <param name="lines">Readings and faults; each line's number takes the place of a record's index.</param>
    /// <param name="station">The station whose logger it is.</param>
    /// <param name="received">When the file was handed in, by the server's clock.</param>
    /// <returns>What counts, and what is set aside with its reason: unreadable lines as well as values that cannot be.</returns>
    public static ReportReading.Report Of(IReadOnlyCollection<LoggerLine> lines, StationContext station, DateTimeOffset received)
    {
        SenmlRecord[] records = [.. lines.OfType<LoggerLine.Reading>().Select(row => new SenmlRecord(
            row.Line, row.Name, row.Unit, row.At.ToUnixTimeMilliseconds() / 1000.0, new SenmlValue.Number(row.Value), null, null))];

        // No base name is set, so none can be another station's.
        ReportReading.Report report = (ReportReading.Report)ReportReader.Read(new SenmlResult.Pack(Version, [], records), station, received);
        return report with
        {
            SetAside = [.. report.SetAside
                .Concat(lines.OfType<LoggerLine.Fault>().Select(fault => new SetAsideRecord(fault.Line, fault.Reason, fault.Text)))
                .OrderBy(record => record.Index)],
        };
    }
}
