using System.Text.Json;

namespace StationFleet.Domain.Telemetry;

/// <summary>Writes measurements as a SenML pack in JSON (RFC 8428), as a station would send it.</summary>
public static class SenmlWriter
{
    /// <summary>The media type of such a pack.</summary>
    public const string MediaType = "application/senml+json";

    /// <summary>Writes one pack.</summary>
    /// <param name="station">The station's code; the base name is <c>code/</c>; empty leaves the base name out, since the key says who it is.</param>
    /// <param name="measurements">At least one measurement, in any order.</param>
    /// <param name="unitOf">The unit to write for a name when it is not one of ours; null writes none.</param>
    /// <returns>JSON in UTF-8: the first record carries base name and base time, each record's time counts from there [s].</returns>
    /// <exception cref="ArgumentException">There is no measurement.</exception>
    public static byte[] Write(string station, IReadOnlyList<Measurement> measurements, Func<string, string?>? unitOf = null)
    {
        ArgumentNullException.ThrowIfNull(measurements);
        if (measurements.Count == 0)
        {
            throw new ArgumentException("A pack holds at least one record.", nameof(measurements));
        }

        // Whole base seconds, so that base and record times add up exactly.
        long baseSeconds = measurements[0].At.ToUnixTimeSeconds();
        using MemoryStream stream = new();
        using (Utf8JsonWriter json = new(stream))
        {
            json.WriteStartArray();
            for (int i = 0; i < measurements.Count; i++)
            {
                Measurement measurement = measurements[i];
                json.WriteStartObject();
                if (i == 0)
                {
                    if (station is { Length: > 0 })
                    {
                        json.WriteString("bn", station + "/");
                    }

                    json.WriteNumber("bt", baseSeconds);
                }

                json.WriteString("n", measurement.Name);
                if ((UnitOf(measurement.Name) ?? unitOf?.Invoke(measurement.Name)) is { } unit)
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

    /// <summary>The unit in which a name's values are written; null for a name that is not in the table of the intake.</summary>
    /// <param name="name">A measurement's name.</param>
    public static string? UnitOf(string name) => name switch
    {
        MeasurementName.TankFill or MeasurementName.BatteryCharge => "/",
        MeasurementName.TankLevel or MeasurementName.TankDistance => "m",
        MeasurementName.BatteryVoltage => "V",
        MeasurementName.BatteryCurrent => "A",
        MeasurementName.BatteryTemperature or MeasurementName.AirTemperature => "Cel",
        MeasurementName.SolarPower or MeasurementName.LoadPower => "W",
        MeasurementName.Latitude => "lat",
        MeasurementName.Longitude => "lon",
        MeasurementName.RadioSignal => "dBW",
        MeasurementName.ControllerUptime => "s",
        _ when MeasurementName.ToolOfUses(name) is not null => "count",
        _ when MeasurementName.KindOf(name) == SeriesKind.Counter => "s",
        _ => null,
    };
}
