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
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(station);
        List<SenmlRecord> records = new(lines.Count);
        List<SetAsideRecord> setAside = [];
        foreach (LoggerLine line in lines)
        {
            switch (line)
            {
                case LoggerLine.Fault fault:
                    setAside.Add(new SetAsideRecord(fault.Line, fault.Reason, fault.Text, SetAsideKind.Unreadable));
                    break;
                case LoggerLine.Reading reading:
                    SenmlRecord record = Record(reading);
                    if (WrongFor(reading, station.Code) is var (kind, wrong))
                    {
                        setAside.Add(new SetAsideRecord(reading.Line, wrong, record.ToJson(Version), kind));
                    }
                    else
                    {
                        records.Add(record);
                    }

                    break;
            }
        }

        // No base name is set, so none can be another station's.
        ReportReading.Report report = (ReportReading.Report)ReportReader.Read(new SenmlResult.Pack(Version, [], records), station, received);
        return setAside.Count == 0 ? report : report with { SetAside = [.. report.SetAside.Concat(setAside).OrderBy(record => record.Index)] };
    }

    /// <summary>Why a reading cannot stand in a report of a station; null when it can.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="station">The station's code; null when it is not known here.</param>
    public static (SetAsideKind Kind, string Reason)? WrongFor(LoggerLine.Reading reading, string? station)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return !SenmlResolver.IsName(reading.Name)
            ? (SetAsideKind.Name, $"The name '{Excerpt.Of(reading.Name, 40)}' may hold only the characters A-Z a-z 0-9 - : . / _ and begin with a letter or digit.")
            : reading.Station is { } other && station is not null && !other.Equals(station, StringComparison.OrdinalIgnoreCase)
                ? (SetAsideKind.OtherStation, $"The line is of station '{Excerpt.Of(other, 40)}', and this is the file of {station}.")
                : null;
    }

    private static SenmlRecord Record(LoggerLine.Reading reading) => new(
        reading.Line, reading.Name, reading.Unit, reading.At.ToUnixTimeMilliseconds() / 1000.0, new SenmlValue.Number(reading.Value), null, null);
}
