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
    public sealed record Report(IReadOnlyList<IndexedMeasurement> Measurements, IReadOnlyList<SetAsideRecord> SetAside) : ReportReading;

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
    private const string ClockWords = "The controller's clock";

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
            if (Check(record, pack, station, received, out Measurement measurement) is { } reason)
            {
                setAside.Add(new SetAsideRecord(record.Index, reason, RawOf(record, pack.Version)));
            }
            else
            {
                measurements.Add(new IndexedMeasurement(record, pack.Version, measurement));
            }
        }

        return new ReportReading.Report(
            [.. measurements.OrderBy(indexed => indexed.Measurement.At)], [.. setAside.OrderBy(record => record.Index)]);
    }

    /// <summary>Whether a record was set aside because the controller's clock is wrong.</summary>
    /// <param name="reason">The reason it was set aside.</param>
    public static bool IsAboutClock(string reason)
    {
        ArgumentNullException.ThrowIfNull(reason);
        return reason.StartsWith(ClockWords, StringComparison.Ordinal);
    }

    private static string? Check(
        SenmlRecord record, SenmlResult.Pack pack, StationContext station, DateTimeOffset received, out Measurement measurement)
    {
        measurement = default;
        string own = station.Code + "/";
        string name = record.Name.StartsWith(own, StringComparison.Ordinal) ? record.Name[own.Length..] : record.Name;
        if (CheckName(name) is { } wrongName)
        {
            return wrongName;
        }

        if (NumberOf(record.Value) is not { } number)
        {
            return record.Value is null
                ? "Sums are not stored: the record holds no value beside its sum."
                : "Only numbers and booleans are stored; this record holds text or data.";
        }

        if (CheckTime(record, station, received, out DateTimeOffset at) is { } wrongTime)
        {
            return wrongTime;
        }

        TableValue value = MeasurementTable.ToCanonical(name, record.Unit, number, pack.AllowsSecondaryUnits);
        if (value is TableValue.Refused refused)
        {
            return refused.Reason;
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

    private static string? CheckTime(SenmlRecord record, StationContext station, DateTimeOffset received, out DateTimeOffset at)
    {
        at = default;
        if (record.IsRelative && !station.HasNoClock)
        {
            return record.Time > 0
                ? ClockWords + " stands before July 1978, or the time is relative and lies ahead: SenML reads such a time as seconds from now."
                : "The time is relative to now: a repeated report would be counted again at another time. Send seconds since 1970 in UTC, "
                + "or have the station marked as one without a clock.";
        }

        double milliseconds = Milliseconds(record.SecondsAt(received.ToUnixTimeMilliseconds() / 1000.0));
        if (milliseconds > (received + FutureTolerance).ToUnixTimeMilliseconds())
        {
            return ClockWords + " is fast: the time lies more than 10 minutes ahead of the server's. GET /api/v1/time tells the server's time.";
        }

        if (milliseconds < station.Created.ToUnixTimeMilliseconds())
        {
            return string.Create(
                CultureInfo.InvariantCulture, $"{ClockWords} is slow: the time lies before {station.Created.UtcDateTime:yyyy-MM-ddTHH:mm:ssZ}, when the station began to exist here.");
        }

        at = DateTimeOffset.FromUnixTimeMilliseconds((long)milliseconds);
        return null;
    }

    /// <summary>
    /// Whole milliseconds, finer parts cut off. A microsecond is forgiven, since base time plus time is inexact by up to a quarter
    /// of one in a double, and the same instant must not become two milliseconds.
    /// </summary>
    private static double Milliseconds(double seconds) => Math.Floor(seconds * 1000 + 0.001);

    internal static string RawOf(SenmlRecord record, int version)
    {
        string raw = record.ToJson(version);
        return raw.Length <= LongestRaw
            ? raw
            : $"{Excerpt.Of(raw, LongestRaw)} SHA-256 {Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(raw)))}";
    }
}
