using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace StationFleet.Domain.Telemetry;

/// <summary>What reading a report needs to know of its station.</summary>
/// <param name="Code">The station's code; its base name is the code and a slash.</param>
/// <param name="Created">From when the station exists.</param>
/// <param name="HasNoClock">Its controller has no clock: relative times are taken at the time of arrival.</param>
public sealed record StationContext(string Code, DateTimeOffset Created, bool HasNoClock);

/// <summary>What came of reading a pack as a station's report.</summary>
public abstract record ReportReading
{
    private ReportReading()
    {
    }

    /// <summary>The report can be stored.</summary>
    /// <param name="Measurements">What counts, in the units of <see cref="MeasurementTable"/>, in chronological order.</param>
    /// <param name="SetAside">What does not, with the reasons, in the order of the pack.</param>
    public sealed record Report(IReadOnlyList<IndexedMeasurement> Measurements, IReadOnlyList<SetAsideRecord> SetAside) : ReportReading
    {
        /// <summary>How far the controller's clock is ahead of the server's, or behind when negative; null when nothing says that it is wrong.</summary>
        public TimeSpan? ClockOff { get; init; }

        /// <summary>Within what time the station promises its next reading: the shortest of its records' update times; null when none says it.</summary>
        public TimeSpan? UpdateWithin { get; init; }
    }

    /// <summary>The pack speaks for another station.</summary>
    /// <param name="BaseName">The base name that is not the station's own.</param>
    public sealed record ForeignName(string BaseName) : ReportReading;
}

/// <summary>Turns a decoded pack into the measurements of one station; what cannot be counted is set aside with its reason.</summary>
public static class ReportReader
{
    /// <summary>How far ahead of the server's clock a time may lie.</summary>
    public static readonly TimeSpan FutureTolerance = TimeSpan.FromMinutes(10);

    /// <summary>The longest name after the base name that is kept.</summary>
    public const int LongestName = 120;

    private const int LongestRaw = 2000;
    private const double LongestUpdateSeconds = 366 * 86400;
    private const double LargestOffSeconds = 1e11; // some 3000 years, which a TimeSpan still holds

    /// <summary>Reads a pack.</summary>
    /// <param name="pack">The decoded pack.</param>
    /// <param name="station">The station whose key came with it.</param>
    /// <param name="received">When it arrived, by the server's clock.</param>
    public static ReportReading Read(SenmlResult.Pack pack, StationContext station, DateTimeOffset received)
    {
        ArgumentNullException.ThrowIfNull(pack);
        ArgumentNullException.ThrowIfNull(station);
        string own = station.Code + "/";
        if (pack.BaseNames.FirstOrDefault(name => !name.StartsWith(own, StringComparison.Ordinal)) is { } foreign)
        {
            return new ReportReading.ForeignName(foreign);
        }

        List<IndexedMeasurement> measurements = new(pack.Records.Count);
        List<SetAsideRecord> setAside = [];
        foreach (SenmlRecord record in pack.Records)
        {
            string name = record.Name.StartsWith(own, StringComparison.Ordinal) ? record.Name[own.Length..] : record.Name;
            if (Check(name, record, pack, station, received, out Measurement measurement) is var (kind, reason))
            {
                setAside.Add(new SetAsideRecord(record.Index, reason, RawOf(record, name, pack.Version), kind));
            }
            else
            {
                measurements.Add(new IndexedMeasurement(record, pack.Version, measurement));
            }
        }

        return new ReportReading.Report(
            [.. measurements.OrderBy(indexed => indexed.Measurement.At)], [.. setAside.OrderBy(record => record.Index)])
        {
            ClockOff = ClockOff(pack, setAside, measurements.Count > 0, received),
            UpdateWithin = UpdateWithin(pack),
        };
    }

    /// <summary>Reads a record that was set aside once more, as the station is set up now.</summary>
    /// <param name="raw">Its <see cref="SetAsideRecord.Raw"/>.</param>
    /// <param name="station">The station as it is set up now.</param>
    /// <param name="received">When the record arrived: its time is judged, and if relative counted, by that moment.</param>
    /// <returns>A report of that one record; null when the text was cut short or is no SenML.</returns>
    public static ReportReading.Report? ReadAgain(string raw, StationContext station, DateTimeOffset received)
    {
        ArgumentNullException.ThrowIfNull(raw);
        ArgumentNullException.ThrowIfNull(station);
        string pack = raw.StartsWith('{') ? $$"""[{"bn":"{{station.Code}}/",{{raw[1..]}}]""" : raw;
        return SenmlDecoder.Decode(Encoding.UTF8.GetBytes(pack)) is SenmlResult.Pack { Records.Count: 1 } decoded
            ? Read(decoded, station, received) as ReportReading.Report
            : null;
    }

    private static (SetAsideKind Kind, string Reason)? Check(
        string name, SenmlRecord record, SenmlResult.Pack pack, StationContext station, DateTimeOffset received, out Measurement measurement)
    {
        measurement = default;
        if (CheckName(name) is { } wrongName)
        {
            return (SetAsideKind.Name, wrongName);
        }

        if (NumberOf(record.Value) is not { } number)
        {
            return (SetAsideKind.NoNumber, record.Value is null
                ? "Sums are not stored: the record holds no value beside its sum."
                : "Only numbers and booleans are stored; this record holds text or data.");
        }

        if (CheckTime(record, station, received, out DateTimeOffset at) is { } wrongTime)
        {
            return wrongTime;
        }

        TableValue value = MeasurementTable.ToCanonical(name, record.Unit, number, pack.AllowsSecondaryUnits);
        if (value is TableValue.Refused refused)
        {
            return (refused.Kind, refused.Reason);
        }

        measurement = new Measurement(name, at, ((TableValue.Canonical)value).Value);
        return null;
    }

    private static string? CheckName(string name) => name.Length switch
    {
        0 => "The record names no measurement: nothing follows the station's base name.",
        > LongestName => string.Create(CultureInfo.InvariantCulture, $"The name is longer than {LongestName} characters."),
        _ => null,
    };

    private static double? NumberOf(SenmlValue? value) => value switch
    {
        SenmlValue.Number number => number.Value,
        SenmlValue.Flag flag => flag.Value ? 1 : 0,
        _ => null,
    };

    private static (SetAsideKind Kind, string Reason)? CheckTime(SenmlRecord record, StationContext station, DateTimeOffset received, out DateTimeOffset at)
    {
        at = default;
        if (record.IsRelative && !station.HasNoClock)
        {
            return record.Time > 0
                ? (SetAsideKind.UnsetClock,
                    "The controller's clock stands before July 1978, or the time is relative and lies ahead: SenML reads such a time as seconds from now.")
                : (SetAsideKind.RelativeTime,
                    "The time is relative to now: a repeated report would be counted again at another time. Send seconds since 1970 in UTC, "
                    + "or have the station marked as one without a clock.");
        }

        double milliseconds = Milliseconds(record.SecondsAt(received.ToUnixTimeMilliseconds() / 1000.0));
        if (milliseconds > (received + FutureTolerance).ToUnixTimeMilliseconds())
        {
            return (SetAsideKind.FastClock,
                "The controller's clock is fast: the time lies more than 10 minutes ahead of the server's. GET /api/v1/time tells the server's time.");
        }

        if (milliseconds < station.Created.ToUnixTimeMilliseconds())
        {
            return (SetAsideKind.BeforeStation, string.Create(
                CultureInfo.InvariantCulture,
                $"The time lies before {station.Created.UtcDateTime:yyyy-MM-ddTHH:mm:ssZ}, when the station began to exist here; or the controller's clock is slow."));
        }

        at = DateTimeOffset.FromUnixTimeMilliseconds((long)milliseconds);
        return null;
    }

    // A clock that was set in between is right now: its older records do not count against it.
    private static TimeSpan? ClockOff(SenmlResult.Pack pack, List<SetAsideRecord> setAside, bool isAnyRight, DateTimeOffset received)
    {
        double? Latest(SetAsideKind kind)
        {
            HashSet<int> indices = [.. setAside.Where(record => record.Kind == kind).Select(record => record.Index)];
            return indices.Count == 0 ? null : pack.Records.Where(record => indices.Contains(record.Index)).Max(record => record.Time);
        }

        double? time = Latest(SetAsideKind.FastClock) ?? (isAnyRight ? null : Latest(SetAsideKind.UnsetClock));
        double now = received.ToUnixTimeMilliseconds() / 1000.0;
        return time is { } seconds ? TimeSpan.FromSeconds(Math.Round(Math.Clamp(seconds - now, -LargestOffSeconds, LargestOffSeconds))) : null;
    }

    // One that is nothing, or nonsense, promises nothing.
    private static TimeSpan? UpdateWithin(SenmlResult.Pack pack) =>
        pack.Records.Where(record => record.UpdateTime is > 0 and <= LongestUpdateSeconds).Min(record => record.UpdateTime) is { } seconds
            ? TimeSpan.FromSeconds(seconds)
            : null;

    /// <summary>
    /// Whole milliseconds, finer parts cut off. A microsecond is forgiven, since base time plus time is inexact by up to a quarter
    /// of one in a double, and the same instant must not become two milliseconds.
    /// </summary>
    private static double Milliseconds(double seconds) => Math.Floor(seconds * 1000 + 0.001);

    internal static string RawOf(SenmlRecord record, string name, int version)
    {
        string raw = (record with { Name = name }).ToJson(version);
        return raw.Length <= LongestRaw
            ? raw
            : $"{Excerpt.Of(raw, LongestRaw)} SHA-256 {Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(raw)))}";
    }
}
