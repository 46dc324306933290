using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace StationFleet.Domain.Telemetry;

/// <summary>What a SenML record says; numbers, booleans, text or data.</summary>
public abstract record SenmlValue
{
    private SenmlValue()
    {
    }

    /// <summary>A number, with its base value added.</summary>
    /// <param name="Value">The number; finite.</param>
    public sealed record Number(double Value) : SenmlValue;

    /// <summary>A boolean.</summary>
    /// <param name="Value">The boolean.</param>
    public sealed record Flag(bool Value) : SenmlValue;

    /// <summary>A text.</summary>
    /// <param name="Value">The text.</param>
    public sealed record Text(string Value) : SenmlValue;

    /// <summary>Bytes, as they were sent: base64url without padding.</summary>
    /// <param name="Base64Url">The encoded bytes.</param>
    public sealed record Data(string Base64Url) : SenmlValue;
}

/// <summary>One resolved record: base fields applied, its time still relative when it was sent so.</summary>
/// <param name="Index">The record's place in its pack, from 0.</param>
/// <param name="Name">Base name and name together.</param>
/// <param name="Unit">Its own unit, else the base unit, else null.</param>
/// <param name="Time">Base time plus time [s]: since 1970 in UTC, or relative to now; see <see cref="IsRelative"/>.</param>
/// <param name="Value">Its value; null when the record only holds a sum.</param>
/// <param name="Sum">The integral of the value over time, with its base sum; null when there is none.</param>
/// <param name="UpdateTime">The longest time until the next reading [s]; null when not said.</param>
public sealed record SenmlRecord(
    int Index, string Name, string? Unit, double Time, SenmlValue? Value, double? Sum, double? UpdateTime)
{
    /// <summary>From this number of seconds on a time is absolute (RFC 8428 §4.5.3): 2²⁸, which is 4 July 1978.</summary>
    public const double FirstAbsoluteTime = 268_435_456;

    /// <summary>Whether the time counts from the moment of reception instead of from 1970.</summary>
    public bool IsRelative => Time < FirstAbsoluteTime;

    /// <summary>The record's time in UTC.</summary>
    /// <param name="nowSeconds">The moment of reception, in seconds since 1970.</param>
    /// <returns>Seconds since 1970.</returns>
    public double SecondsAt(double nowSeconds) => IsRelative ? nowSeconds + Time : Time;

    /// <summary>
    /// The record as SenML text. A relative time stays relative, so that the same record sent again gives the same text.
    /// </summary>
    /// <param name="version">The version of its pack; written when it is not 10 (RFC 8428 §4.6).</param>
    public string ToJson(int version)
    {
        ArrayBufferWriter<byte> buffer = new(128);
        using (Utf8JsonWriter writer = new(buffer, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            Write(writer, version);
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    private void Write(Utf8JsonWriter writer, int version)
    {
        writer.WriteStartObject();
        if (version != SenmlDecoder.BaseVersion)
        {
            writer.WriteNumber("bver", version);
        }

        writer.WriteString("n", Name);
        if (Unit is not null)
        {
            writer.WriteString("u", Unit);
        }

        writer.WriteNumber("t", Time);
        switch (Value)
        {
            case SenmlValue.Number number:
                writer.WriteNumber("v", number.Value);
                break;
            case SenmlValue.Flag flag:
                writer.WriteBoolean("vb", flag.Value);
                break;
            case SenmlValue.Text text:
                writer.WriteString("vs", text.Value);
                break;
            case SenmlValue.Data data:
                writer.WriteString("vd", data.Base64Url);
                break;
        }

        WriteOptional(writer, "s", Sum);
        WriteOptional(writer, "ut", UpdateTime);
        writer.WriteEndObject();
    }

    private static void WriteOptional(Utf8JsonWriter writer, string label, double? value)
    {
        if (value is { } number)
        {
            writer.WriteNumber(label, number);
        }
    }
}
