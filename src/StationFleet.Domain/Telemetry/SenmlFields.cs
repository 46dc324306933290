using System.Text.Json;

namespace StationFleet.Domain.Telemetry;

/// <summary>The fields of one SenML record as sent, each of the right type and given once.</summary>
internal sealed class SenmlFields
{
    private static readonly string[] Known = ["n", "v", "t", "u", "bn", "bt", "bu", "bv", "bs", "bver", "vb", "vs", "vd", "s", "ut"];

    // One bit for each known label.
    private int _seen;

    // A set, not a list: a hostile record may hold a hundred thousand labels.
    private HashSet<string>? _others;

    public string? BaseName { get; private set; }

    public double? BaseTime { get; private set; }

    public string? BaseUnit { get; private set; }

    public double? BaseValue { get; private set; }

    public double? BaseSum { get; private set; }

    public double? BaseVersion { get; private set; }

    public string? Name { get; private set; }

    public string? Unit { get; private set; }

    public double? Number { get; private set; }

    public bool? Flag { get; private set; }

    public string? Text { get; private set; }

    public string? Data { get; private set; }

    public double? Sum { get; private set; }

    public double? Time { get; private set; }

    public double? UpdateTime { get; private set; }

    /// <summary>Only sets base fields for the records after it (RFC 8428 §5.1.7 has such a record).</summary>
    public bool IsOnlyBase => HasBaseField && !HasRegularField;

    public int ValueCount => (Number is null ? 0 : 1) + (Flag is null ? 0 : 1) + (Text is null ? 0 : 1) + (Data is null ? 0 : 1);

    private bool HasBaseField { get; set; }

    private bool HasRegularField { get; set; }

    /// <summary>Reads one object, from its brace to its brace.</summary>
    /// <returns>What is wrong with it, or null.</returns>
    public string? ReadFrom(ref Utf8JsonReader reader)
    {
        while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
        {
            string label = LabelOf(ref reader, out bool isNew);
            if (!isNew)
            {
                return $"The field '{Excerpt.Of(label, 40)}' is given twice.";
            }

            reader.Read();
            if (ReadField(ref reader, label) is { } fault)
            {
                return fault;
            }
        }

        return null;
    }

    private string LabelOf(ref Utf8JsonReader reader, out bool isNew)
    {
        for (int i = 0; i < Known.Length; i++)
        {
            if (reader.ValueTextEquals(Known[i]))
            {
                isNew = (_seen & (1 << i)) == 0;
                _seen |= 1 << i;
                return Known[i];
            }
        }

        string label = reader.GetString()!;
        isNew = (_others ??= new HashSet<string>(StringComparer.Ordinal)).Add(label);
        return label;
    }

    private string? ReadField(ref Utf8JsonReader reader, string label)
    {
        string? fault = null;
        switch (label)
        {
            case "bn": BaseName = ReadText(ref reader, label, ref fault); break;
            case "bt": BaseTime = ReadNumber(ref reader, label, ref fault); break;
            case "bu": BaseUnit = ReadText(ref reader, label, ref fault); break;
            case "bv": BaseValue = ReadNumber(ref reader, label, ref fault); break;
            case "bs": BaseSum = ReadNumber(ref reader, label, ref fault); break;
            case "bver": BaseVersion = ReadNumber(ref reader, label, ref fault); break;
            case "n": Name = ReadText(ref reader, label, ref fault); break;
            case "u": Unit = ReadText(ref reader, label, ref fault); break;
            case "v": Number = ReadNumber(ref reader, label, ref fault); break;
            case "vb": Flag = ReadFlag(ref reader, label, ref fault); break;
            case "vs": Text = ReadText(ref reader, label, ref fault); break;
            case "vd": Data = ReadData(ref reader, label, ref fault); break;
            case "s": Sum = ReadNumber(ref reader, label, ref fault); break;
            case "t": Time = ReadNumber(ref reader, label, ref fault); break;
            case "ut": UpdateTime = ReadNumber(ref reader, label, ref fault); break;
            default: return ReadUnknown(ref reader, label);
        }

        HasBaseField |= label[0] == 'b';
        HasRegularField |= label[0] != 'b';
        return fault;
    }

    private static string? ReadUnknown(ref Utf8JsonReader reader, string label)
    {
        if (label.EndsWith('_'))
        {
            return $"The field '{Excerpt.Of(label, 40)}' asks to be understood, and this server does not know it.";
        }

        reader.Skip();
        return null;
    }

    private static double? ReadNumber(ref Utf8JsonReader reader, string label, ref string? fault)
    {
        if (reader.TokenType != JsonTokenType.Number)
        {
            fault = $"'{label}' must be a number.";
            return null;
        }

        // 1e400 reads as infinity.
        if (reader.TryGetDouble(out double number) && double.IsFinite(number))
        {
            return number;
        }

        fault = $"'{label}' is beyond the range of a 64-bit floating-point number.";
        return null;
    }

    private static string? ReadText(ref Utf8JsonReader reader, string label, ref string? fault)
    {
        if (reader.TokenType == JsonTokenType.String)
        {
            return reader.GetString();
        }

        fault = $"'{label}' must be a string.";
        return null;
    }

    private static bool? ReadFlag(ref Utf8JsonReader reader, string label, ref string? fault)
    {
        if (reader.TokenType is JsonTokenType.True or JsonTokenType.False)
        {
            return reader.GetBoolean();
        }

        fault = $"'{label}' must be true or false.";
        return null;
    }

    private static string? ReadData(ref Utf8JsonReader reader, string label, ref string? fault)
    {
        string? data = ReadText(ref reader, label, ref fault);
        if (data is not null && (data.Length % 4 == 1 || !data.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_')))
        {
            fault = $"'{label}' must be base64url without padding.";
        }

        return data;
    }
}
