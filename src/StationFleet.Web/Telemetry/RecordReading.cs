using System.Globalization;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Telemetry;

/// <summary>What became of one record.</summary>
public enum RecordFate
{
    /// <summary>It is a new measurement.</summary>
    New,

    /// <summary>It was known.</summary>
    Repeated,

    /// <summary>It does not count, and waits for a person.</summary>
    SetAside,
}

/// <summary>How one record of a report was read, for the person who programs the station.</summary>
/// <param name="Index">Its place in the pack, from 0.</param>
/// <param name="Name">Its whole name, base name included.</param>
/// <param name="Series">The name under which the station's values are kept.</param>
/// <param name="Unit">The unit in which they are kept; null when the name is not in the table, and any unit goes.</param>
/// <param name="At">Its time, resolved; null when no calendar holds it.</param>
/// <param name="Value">Its value in that unit; null when it is no number or was set aside before that was clear.</param>
/// <param name="Sent">Value and unit as they were sent.</param>
/// <param name="Fate">What became of it.</param>
/// <param name="Reason">Why it was set aside; null when it was not.</param>
/// <param name="Meaning">What it says, in words.</param>
public sealed record RecordReading(
    int Index, string Name, string Series, string? Unit, DateTimeOffset? At, double? Value, string Sent, RecordFate Fate, string? Reason, string Meaning);

/// <summary>A report as it was decoded and read.</summary>
internal sealed record ReadReport(SenmlResult.Pack Pack, ReportReading.Report Report, StationContext Station, DateTimeOffset Received)
{
    public IReadOnlyList<RecordReading> Records(ReportReceipt receipt) =>
        Records(receipt.RepeatedIndices.ToHashSet(), receipt.SetAside.ToDictionary(record => record.Index, record => record.Reason));

    public IReadOnlyList<RecordReading> Records(IReadOnlySet<int> repeated, IReadOnlyDictionary<int, string> setAside)
    {
        Dictionary<int, Measurement> measured = Report.Measurements.ToDictionary(row => row.Index, row => row.Measurement);
        return [.. Pack.Records.OrderBy(record => record.Index).Select(record => Read(record, measured, repeated, setAside))];
    }

    private RecordReading Read(
        SenmlRecord record, Dictionary<int, Measurement> measured, IReadOnlySet<int> repeated, IReadOnlyDictionary<int, string> setAside)
    {
        string own = Station.Code + "/";
        string series = record.Name.StartsWith(own, StringComparison.Ordinal) ? record.Name[own.Length..] : record.Name;
        bool counts = measured.TryGetValue(record.Index, out Measurement measurement);
        KnownName? known = MeasurementTable.Find(series);
        string? reason = setAside.GetValueOrDefault(record.Index);
        return new RecordReading(
            record.Index,
            record.Name,
            series,
            known?.Unit,
            counts ? measurement.At : InstantOf(record.SecondsAt(Received.ToUnixTimeMilliseconds() / 1000.0)),
            counts ? measurement.Value : null,
            Sent(record),
            reason is not null ? RecordFate.SetAside : repeated.Contains(record.Index) ? RecordFate.Repeated : RecordFate.New,
            reason,
            Meaning(known, series, counts ? measurement.Value : null));
    }

    private static string Meaning(KnownName? known, string series, double? value) => (known, value) switch
    {
        (null, _) => "not in the table of names: kept as it is, and no rule looks at it",
        ({ } line, null) => line.Meaning,
        ({ } line, { } number) => $"{line.Meaning}: {Words.Of(series, number)}",
    };

    private static string Sent(SenmlRecord record)
    {
        string value = record.Value switch
        {
            SenmlValue.Number number => number.Value.ToString(CultureInfo.InvariantCulture),
            SenmlValue.Flag flag => flag.Value ? "true" : "false",
            SenmlValue.Text text => $"“{Short(text.Value)}”",
            SenmlValue.Data => "data",
            _ => string.Create(CultureInfo.InvariantCulture, $"sum {record.Sum}"),
        };
        return record.Unit is null ? value : $"{value} {Short(record.Unit)}";
    }

    private static string Short(string text) => text.Length <= 60 ? text : string.Concat(text.AsSpan(0, 59), "…");

    private static DateTimeOffset? InstantOf(double seconds) =>
        seconds > DateTimeOffset.MinValue.ToUnixTimeSeconds() && seconds < DateTimeOffset.MaxValue.ToUnixTimeSeconds()
            ? DateTimeOffset.FromUnixTimeMilliseconds((long)(seconds * 1000))
            : null;
}
