using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Telemetry;

/// <summary>The words of the page for the person who programs a station.</summary>
internal static class ReportTexts
{
    /// <summary>Whether the last report arrived and what became of it.</summary>
    public static string Headline(ReportsView view, DateTimeOffset now)
    {
        TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(view.ZoneId);
        ReportRow? last = view.Reports.Count == 0 ? null : view.Reports[0];
        if (view.RefusedKey is { } key && (last is null || key.LastReceived >= last.LastReceived))
        {
            string why = key.Revoked is { } revoked ? $"was revoked {SpokenTime.At(revoked, now, zone)}" : "is not right after its head";
            return $"A report came {Ago(key.LastReceived, now, zone)} with the key {key.Prefix}…, which {why}: it was refused with 401.";
        }

        return last is null
            ? $"No report of {view.Code} has come since {SpokenTime.At(view.Since, now, zone)}, when the server started."
            : $"Your last report arrived {Ago(last.LastReceived, now, zone)} and {Became(last)}";
    }

    public static string Became(ReportRow row) => row.Status switch
    {
        200 => $"was taken: {Counts(row.Accepted, row.Repeated, row.SetAside)}.",
        422 => $"none of it counts: {Counts(row.Accepted, row.Repeated, row.SetAside)}.",
        >= 500 => $"could not be stored ({Number(row.Status)}): it must be sent again.",
        _ => $"was refused with {Number(row.Status)}: {char.ToLowerInvariant(row.Title[0])}{row.Title[1..]}.",
    };

    public static string Counts(int accepted, int repeated, int setAside) =>
        $"{NumberWords.Figures(accepted)} new, {NumberWords.Figures(repeated)} repeated{(setAside == 0 ? "" : $", {NumberWords.Figures(setAside)} set aside")}";

    /// <summary>What a dry run says in a sentence.</summary>
    public static string Tried(AcceptReport.Outcome outcome) => outcome switch
    {
        AcceptReport.Outcome.Stored { Receipt: var receipt } =>
            $"It would be taken with 200: {Counts(receipt.Accepted, receipt.Repeated, receipt.SetAside.Count)}. Nothing was stored.",
        AcceptReport.Outcome.NothingCounted { Receipt: var receipt } =>
            $"It would be answered with 422, since none of it counts: {Counts(0, 0, receipt.SetAside.Count)}. Nothing was stored.",
        AcceptReport.Outcome.Broken { Fault: var fault } =>
            $"It would be refused with 400. {(fault.Record is { } record ? $"Record {Number(record)}: " : "")}{fault.Detail}",
        AcceptReport.Outcome.Foreign foreign => $"It would be refused with 403: the base name “{foreign.BaseName}” is not this station's.",
        _ => "It cannot be tried just now (503): the database is busy or the disk is full.",
    };

    public static string Ago(DateTimeOffset at, DateTimeOffset now, TimeZoneInfo zone) => (now - at).TotalSeconds switch
    {
        >= 0 and < 1 => "just now",
        >= 1 and < 60 and var seconds => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(seconds):0} s ago"),
        _ => SpokenTime.Ago(at, now, zone),
    };

    /// <summary>The local time to the second: programmers compare it with their own log.</summary>
    public static string Clock(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM, HH:mm:ss", CultureInfo.InvariantCulture);

    public static string Utc(DateTimeOffset at) => at.UtcDateTime.ToString(
        at.Millisecond == 0 ? "yyyy-MM-dd HH:mm:ss'Z'" : "yyyy-MM-dd HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);

    /// <summary>How large a report was on the way, and unpacked when that differs.</summary>
    public static string Size(ReportRow row) => (row.SentBytes, row.Bytes) switch
    {
        (null, null) => "not read",
        ({ } sent, null) => $"{Bytes(sent)}, not read",
        (null, { } bytes) => $"{Bytes(bytes)}, in chunks",
        ({ } sent, { } bytes) => sent == bytes ? Bytes(sent) : $"{Bytes(sent)}, unpacked {Bytes(bytes)}",
    };

    private static string Bytes(long bytes) => bytes < 10_000 ? $"{NumberWords.Figures(bytes)} B" : $"{NumberWords.Figures(bytes / 1024.0)} KiB";

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
