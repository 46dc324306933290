using System.Globalization;

namespace StationFleet.Domain.Telemetry;

/// <summary>Applies base fields to the records after them (RFC 8428 §4.1 and §4.6) and holds the rules of a pack.</summary>
internal sealed class SenmlResolver
{
    // Versions stay below 2^53 so that a double holds them exactly (RFC 9100).
    private const double VersionLimit = 9_007_199_254_740_992;
    private const long KnownFeatures = SenmlDecoder.BaseVersion | SenmlDecoder.SecondaryUnitsFeature;
    private const long ReservedBits = 0b1111;

    private readonly List<SenmlRecord> _records = [];
    private readonly HashSet<string> _baseNames = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);
    private string _baseName = "";
    private double _baseTime;
    private string? _baseUnit;
    private double _baseValue;
    private double? _baseSum;
    private long? _version;

    /// <summary>Takes the next record.</summary>
    /// <returns>What is wrong with it, or null.</returns>
    public string? Add(int index, SenmlFields fields)
    {
        if (TakeVersion(fields.BaseVersion) is { } fault)
        {
            return fault;
        }

        TakeBase(fields);
        return fields.IsOnlyBase ? null : AddResolved(index, fields);
    }

    public SenmlResult.Pack ToPack() => new(
        (int)(_version ?? SenmlDecoder.BaseVersion),
        [.. _baseNames],
        [.. _records.OrderBy(record => record.IsRelative).ThenBy(record => record.Time)]);

    private string? TakeVersion(double? sent)
    {
        if (sent is { } number && !(number >= 1 && number < VersionLimit && Math.Floor(number) == number))
        {
            return "'bver' must be a positive whole number.";
        }

        long version = (long?)sent ?? _version ?? SenmlDecoder.BaseVersion;
        if ((version & ~KnownFeatures) != 0 || (version & ReservedBits) != SenmlDecoder.BaseVersion)
        {
            return string.Create(
                CultureInfo.InvariantCulture, $"Version {version} is not known here; known are 10 and 26 (RFC 9100: secondary units).");
        }

        if (_version is { } before && before != version)
        {
            return string.Create(
                CultureInfo.InvariantCulture, $"All records of a pack have one version; this one has {version}, those before it {before}.");
        }

        _version = version;
        return null;
    }

    private void TakeBase(SenmlFields fields)
    {
        if (!string.IsNullOrEmpty(fields.BaseName))
        {
            _baseNames.Add(fields.BaseName);
        }

        if (fields.BaseName is { } baseName && baseName != _baseName)
        {
            _baseName = baseName;
            _names.Clear();
        }

        _baseTime = fields.BaseTime ?? _baseTime;
        _baseUnit = fields.BaseUnit ?? _baseUnit;
        _baseValue = fields.BaseValue ?? _baseValue;
        _baseSum = fields.BaseSum ?? _baseSum;
    }

    private string? AddResolved(int index, SenmlFields fields)
    {
        double? sum = fields.Sum is null && _baseSum is null ? null : (fields.Sum ?? 0) + (_baseSum ?? 0);
        double time = _baseTime + (fields.Time ?? 0);
        SenmlValue? value = ValueOf(fields);
        if (CheckValues(fields.ValueCount, value, sum, time) is { } fault)
        {
            return fault;
        }

        if (ResolveName(fields.Name ?? "", out string name) is { } wrongName)
        {
            return wrongName;
        }

        _records.Add(new SenmlRecord(index, name, fields.Unit ?? _baseUnit, time, value, sum, fields.UpdateTime));
        return null;
    }

    // The names of a pack repeat: each is put together and checked once.
    private string? ResolveName(string ownName, out string name)
    {
        if (_names.TryGetValue(ownName, out string? known))
        {
            name = known;
            return null;
        }

        name = _baseName + ownName;
        string? fault = CheckName(name);
        if (fault is null)
        {
            _names.Add(ownName, name);
        }

        return fault;
    }

    private SenmlValue? ValueOf(SenmlFields fields) => fields switch
    {
        { Number: { } number } => new SenmlValue.Number(_baseValue + number),
        { Flag: { } flag } => new SenmlValue.Flag(flag),
        { Text: { } text } => new SenmlValue.Text(text),
        { Data: { } data } => new SenmlValue.Data(data),
        _ => null,
    };

    private static string? CheckValues(int count, SenmlValue? value, double? sum, double time)
    {
        if (count > 1)
        {
            return "A record holds one of 'v', 'vs', 'vb' and 'vd', not several.";
        }

        if (count == 0 && sum is null)
        {
            return "The record holds no value: one of 'v', 'vs', 'vb', 'vd' or 's' is needed.";
        }

        return !double.IsFinite(time) || sum is { } total && !double.IsFinite(total)
            || value is SenmlValue.Number number && !double.IsFinite(number.Value)
            ? "With its base added, a number of the record is beyond the range of a 64-bit floating-point number."
            : null;
    }

    private static string? CheckName(string name)
    {
        if (name.Length == 0)
        {
            return "The record has no name: neither 'bn' nor 'n' gives one.";
        }

        if (!char.IsAsciiLetterOrDigit(name[0]))
        {
            return "A name starts with a letter or a digit.";
        }

        return IsName(name) ? null : "A name holds only the characters A-Z a-z 0-9 - : . / _";
    }

    /// <summary>Whether a text may be a name (RFC 8428 §4.5.1).</summary>
    internal static bool IsName(string text) =>
        text.Length > 0 && char.IsAsciiLetterOrDigit(text[0]) && text.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or ':' or '.' or '/' or '_');
}
