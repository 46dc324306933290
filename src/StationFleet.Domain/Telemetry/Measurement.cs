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
/// <param name="Index">The record's place in its pack, from 0.</param>
/// <param name="Measurement">The measurement.</param>
/// <param name="Raw">The resolved record as JSON text, kept only if the store has to set it aside.</param>
public readonly record struct IndexedMeasurement(int Index, Measurement Measurement, string Raw);
