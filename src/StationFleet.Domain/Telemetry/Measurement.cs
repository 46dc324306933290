namespace StationFleet.Domain.Telemetry;

/// <summary>One value at one time, in the canonical unit of its name.</summary>
/// <param name="Name">The name after the station's base name, such as <c>tank/fill</c>.</param>
/// <param name="At">When it was measured; whole milliseconds.</param>
/// <param name="Value">The value; finite.</param>
public readonly record struct Measurement(string Name, DateTimeOffset At, double Value);

/// <summary>A record of a report that could not be counted: kept, with the reason, and shown.</summary>
/// <param name="Index">The record's place in its pack, from 0.</param>
/// <param name="Reason">One sentence for the person who programs the station.</param>
/// <param name="Raw">The resolved record as JSON text, its name without the station's; the same record sent again gives the same text.</param>
/// <param name="Kind">The reason as a code.</param>
public sealed record SetAsideRecord(int Index, string Reason, string Raw, SetAsideKind Kind = SetAsideKind.Other);

/// <summary>A measurement together with its place in the pack that brought it.</summary>
public readonly record struct IndexedMeasurement
{
    // A text, or the record that it can be made of: most are never asked for.
    private readonly object _raw;
    private readonly int _version;

    /// <summary>Makes one whose text is known.</summary>
    /// <param name="index">The record's place in its pack, from 0.</param>
    /// <param name="measurement">The measurement.</param>
    /// <param name="raw">The resolved record as text.</param>
    public IndexedMeasurement(int index, Measurement measurement, string raw) => (Index, Measurement, _raw) = (index, measurement, raw);

    internal IndexedMeasurement(SenmlRecord record, int version, Measurement measurement) =>
        (Index, Measurement, _raw, _version) = (record.Index, measurement, record, version);

    /// <summary>The record's place in its pack, from 0.</summary>
    public int Index { get; init; }

    /// <summary>The measurement.</summary>
    public Measurement Measurement { get; }

    /// <summary>The resolved record as JSON text, kept only if the store has to set it aside.</summary>
    public string Raw => _raw as string ?? ReportReader.RawOf((SenmlRecord)_raw, Measurement.Name, _version);
}
