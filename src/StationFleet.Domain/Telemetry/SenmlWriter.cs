using System.Text.Json;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Domain.Telemetry;

/// <summary>Writes measurements as a SenML pack in JSON (RFC 8428), as a station would send it.</summary>
public static class SenmlWriter
{
    /// <summary>The media type of such a pack.</summary>
    public const string MediaType = "application/senml+json";

    /// <summary>Writes one pack.</summary>
    /// <param name="station">The station's code; the base name is <c>code/</c>; empty leaves the base name out, since the key says who it is.</param>
    /// <param name="measurements">At least one measurement, in any order, in the units of <see cref="MeasurementTable"/>.</param>
    /// <returns>JSON in UTF-8: the first record carries base name and base time, each record's time counts from there [s].</returns>
    /// <exception cref="ArgumentException">There is no measurement.</exception>
    public static byte[] Write(string station, IReadOnlyList<Measurement> measurements)
    {
        ArgumentNullException.ThrowIfNull(measurements);
        return Write(station is { Length: > 0 } ? station + "/" : null, null, [.. measurements.Select(m => (m, UnitOf(m.Name)))]);
    }

    /// <summary>Writes the readings of a logger's file as one pack, with the units that the file states.</summary>
    /// <param name="readings">At least one reading, in any order.</param>
    /// <returns>JSON in UTF-8, of the version that allows secondary units (RFC 9100).</returns>
    /// <exception cref="ArgumentException">There is no reading.</exception>
    public static byte[] Write(IReadOnlyList<LoggerLine.Reading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        return Write(null, LoggerFileReport.Version, [.. readings.Select(row => (new Measurement(row.Name, row.At, row.Value), row.Unit))]);
    }

    /// <summary>The unit in which a name's values are kept and sent; null for a name that is not in the table.</summary>
    /// <param name="name">A measurement's name.</param>
    public static string? UnitOf(string name) => MeasurementTable.Find(name)?.Unit;

    private static byte[] Write(string? baseName, int? version, IReadOnlyList<(Measurement Measurement, string? Unit)> records)
    {
        if (records.Count == 0)
        {
            throw new ArgumentException("A pack holds at least one record.", nameof(records));
        }

        // Whole base seconds, so that base and record times add up exactly.
        long baseSeconds = records[0].Measurement.At.ToUnixTimeSeconds();
        using MemoryStream stream = new();
        using (Utf8JsonWriter json = new(stream))
        {
            json.WriteStartArray();
            for (int i = 0; i < records.Count; i++)
            {
                (Measurement measurement, string? unit) = records[i];
                json.WriteStartObject();
                if (i == 0)
                {
                    WriteHead(json, baseName, version, baseSeconds);
                }

                json.WriteString("n", measurement.Name);
                if (unit is not null)
                {
                    json.WriteString("u", unit);
                }

                decimal seconds = (measurement.At.ToUnixTimeMilliseconds() - (baseSeconds * 1000)) / 1000m;
                if (seconds != 0)
                {
                    json.WriteNumber("t", seconds);
                }

                json.WriteNumber("v", measurement.Value);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        return stream.ToArray();
    }

    private static void WriteHead(Utf8JsonWriter json, string? baseName, int? version, long baseSeconds)
    {
        if (version is { } number)
        {
            json.WriteNumber("bver", number);
        }

        if (baseName is not null)
        {
            json.WriteString("bn", baseName);
        }

        json.WriteNumber("bt", baseSeconds);
    }
}
