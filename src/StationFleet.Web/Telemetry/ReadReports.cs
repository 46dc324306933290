using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// A station's newest reports for the person who programs its controller: those that the journal holds, refused ones included, and
/// before them the counts of what is on disk.
/// </summary>
internal sealed class ReadReports(
    IDbContextFactory<FleetDbContext> databases, ReportJournal journal, MeasurementReader measurements, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <returns>The page; null when the person sees no such station.</returns>
    public async Task<ReportsView?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? station = await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel);
        if (station is null)
        {
            return null;
        }

        ReportJournal.Page page = journal.Read(station.Id);
        long oldest = page.Entries.Select(entry => entry.Answer.ReportId).Where(id => id is not null).Min() ?? long.MaxValue;
        IReadOnlyList<ReportSummary> stored = await measurements.RecentReportsAsync(station.Id, ReportJournal.MostKept, cancel);
        DateTimeOffset now = clock.GetUtcNow();
        return new ReportsView(
            station.Id,
            station.Code,
            (await StationZones.OfAsync(db, station.Id, now, options.Value, cancel)).Id,
            now,
            journal.Since,
            page.Version,
            page.RefusedKey is { } key ? new RefusedKeyRow(key.Prefix, key.Revoked, key.LastReceived, key.Times) : null,
            [.. page.Entries.Select(RowOf)],
            [.. stored.Where(report => report.Id < oldest && report.Source == ReportSource.Station).Take(ReportJournal.MostKept - page.Entries.Count)]);
    }

    /// <summary>Grows with each report of a station that the person was shown.</summary>
    public long VersionOf(StationId station) => journal.VersionOf(station);

    /// <summary>One report in full; null when it is not kept any more or not for this person.</summary>
    public async Task<ReportDetail?> OpenAsync(Viewer viewer, string code, long number, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? station = await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel);
        return station is not null && journal.Read(station.Id).Entries.FirstOrDefault(entry => entry.Number == number) is { } found
            ? new ReportDetail(RowOf(found), RecordsOf(found), Encoding.UTF8.GetString(found.Request.Body), found.Request.Body.Length < found.Request.Bytes)
            : null;
    }

    // Read anew from the bytes, with what the store said of each record then.
    private static IReadOnlyList<RecordReading>? RecordsOf(ReportJournal.Entry entry) =>
        entry.Answer.ReportId is not null
        && SenmlDecoder.Decode(entry.Request.Body) is SenmlResult.Pack pack
        && ReportReader.Read(pack, entry.Request.Station, entry.Received) is ReportReading.Report report
            ? new ReadReport(pack, report, entry.Request.Station, entry.Received).Records(entry.Answer.RepeatedIndices.ToHashSet(), entry.Answer.Reasons)
            : null;

    private static ReportRow RowOf(ReportJournal.Entry entry) => new(
        entry.Number,
        entry.Received,
        entry.LastReceived,
        entry.Times,
        entry.Answer.Status,
        entry.Answer.Title,
        entry.Answer.Detail,
        entry.Request.Prefix,
        entry.Request.MediaType,
        entry.Request.Coding,
        entry.Request.SentBytes,
        entry.Request.Bytes,
        entry.Answer.Accepted,
        entry.Answer.Repeated,
        entry.Answer.SetAside);
}

/// <summary>A station's newest reports; public, since the page keeps it between prerendering and its circuit.</summary>
/// <param name="Since">From when the journal tells.</param>
/// <param name="Version">Grows with each report.</param>
/// <param name="Reports">What the journal holds, newest first.</param>
/// <param name="Earlier">What is on disk from before, newest first.</param>
public sealed record ReportsView(
    StationId Id, string Code, string ZoneId, DateTimeOffset Now, DateTimeOffset Since, long Version, RefusedKeyRow? RefusedKey,
    IReadOnlyList<ReportRow> Reports, IReadOnlyList<ReportSummary> Earlier);

/// <summary>Requests whose key is revoked or wrong.</summary>
public sealed record RefusedKeyRow(string Prefix, DateTimeOffset? Revoked, DateTimeOffset LastReceived, int Times);

/// <summary>A report in the list.</summary>
public sealed record ReportRow(
    long Number, DateTimeOffset Received, DateTimeOffset LastReceived, int Times, int Status, string Title, string Detail, string Prefix,
    string MediaType, string Coding, long? SentBytes, int? Bytes, int Accepted, int Repeated, int SetAside);

/// <summary>A report in full.</summary>
/// <param name="Records">How each record was read; null when it was not, or the body is too large to be kept.</param>
public sealed record ReportDetail(ReportRow Row, IReadOnlyList<RecordReading>? Records, string Body, bool IsCut);
