using System.Text.Json;
using System.Text.Unicode;

namespace StationFleet.Domain.Telemetry;

/// <summary>What came of decoding a body: a pack, or the first fault found.</summary>
public abstract record SenmlResult
{
    private SenmlResult()
    {
    }

    /// <summary>A lawful pack.</summary>
    /// <param name="Version">10, or 26 when the pack may use secondary units (RFC 9100).</param>
    /// <param name="BaseNames">Every base name that the pack sets, each once.</param>
    /// <param name="Records">
    /// The resolved records in chronological order; those with a relative time come last, since they are close to now.
    /// </param>
    public sealed record Pack(int Version, IReadOnlyList<string> BaseNames, IReadOnlyList<SenmlRecord> Records) : SenmlResult
    {
        /// <summary>Whether the pack may use the secondary units of RFC 8798.</summary>
        public bool AllowsSecondaryUnits => (Version & SenmlDecoder.SecondaryUnitsFeature) != 0;
    }

    /// <summary>The body is not JSON, or breaks a rule of SenML; nothing of it may be used.</summary>
    /// <param name="Record">The place of the record at fault, from 0; null when the fault is the pack's.</param>
    /// <param name="Detail">What is wrong, in a sentence for the person who programs the station.</param>
    public sealed record Fault(int? Record, string Detail) : SenmlResult;
}

/// <summary>
/// Decodes the JSON form of Sensor Measurement Lists (RFC 8428, versions as in RFC 9100) and applies the base fields.
/// Never throws, whatever the bytes.
/// </summary>
public static class SenmlDecoder
{
    /// <summary>The version of a pack that does not name one: features 1 and 3 (RFC 9100).</summary>
    public const int BaseVersion = 10;

    /// <summary>The feature bit of secondary units, code 4; with it a pack has version 26.</summary>
    public const int SecondaryUnitsFeature = 1 << 4;

    // A record is at depth 2; what lies deeper stands in fields that we ignore.
    private const int DeepestNesting = 16;

    private static ReadOnlySpan<byte> ByteOrderMark => [0xEF, 0xBB, 0xBF];

    /// <summary>Decodes one pack.</summary>
    /// <param name="json">The body as it came, unpacked; UTF-8.</param>
    public static SenmlResult Decode(ReadOnlySpan<byte> json)
    {
        if (json.StartsWith(ByteOrderMark))
        {
            json = json[ByteOrderMark.Length..];
        }

        if (!Utf8.IsValid(json))
        {
            return new SenmlResult.Fault(null, "The body is not valid UTF-8.");
        }

        int? record = null;
        try
        {
            return DecodePack(json, ref record);
        }
        catch (JsonException broken)
        {
            return new SenmlResult.Fault(record, string.Create(
                System.Globalization.CultureInfo.InvariantCulture,
                $"The JSON is malformed, cut short or nested too deeply at line {broken.LineNumber + 1}, byte {broken.BytePositionInLine + 1}."));
        }
        catch (InvalidOperationException)
        {
            // The reader's answer to an escape such as \ud800 that stands for half a character.
            return new SenmlResult.Fault(record, "A text holds an escape that stands for no character.");
        }
    }

    private static SenmlResult DecodePack(ReadOnlySpan<byte> json, ref int? record)
    {
        Utf8JsonReader reader = new(json, new JsonReaderOptions { MaxDepth = DeepestNesting });
        reader.Read();
        if (reader.TokenType != JsonTokenType.StartArray)
        {
            return new SenmlResult.Fault(null, "A pack is a JSON array of records.");
        }

        SenmlResolver resolver = new();
        for (int index = 0; reader.Read() && reader.TokenType != JsonTokenType.EndArray; index++)
        {
            record = index;
            if (reader.TokenType != JsonTokenType.StartObject)
            {
                return new SenmlResult.Fault(index, "A record is a JSON object.");
            }

            SenmlFields fields = new();
            if ((fields.ReadFrom(ref reader) ?? resolver.Add(index, fields)) is { } fault)
            {
                return new SenmlResult.Fault(index, fault);
            }
        }

        bool isEmpty = record is null;
        record = null;
        reader.Read(); // throws when anything but white space follows
        return isEmpty ? new SenmlResult.Fault(null, "The pack holds no record.") : resolver.ToPack();
    }
}
