using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Time;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Boaters;

/// <summary>A boater's report that waits for a person; public, since a page keeps it between prerendering and its circuit.</summary>
/// <param name="Said">What was said, in a sentence.</param>
/// <param name="When">When, in words of the access's time.</param>
public sealed record WaitingReport(int Id, string Station, string Place, string Said, string When);

/// <summary>Reads what boaters reported and nobody has looked at, the oldest first.</summary>
public sealed class ListPublicReports(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    private const int Most = 100;

    public static IQueryable<PublicReport> VisibleTo(FleetDbContext db, Viewer viewer) =>
        db.PublicReports.Where(report => db.Stations.VisibleTo(viewer).Any(station => station.Id == report.StationId));

    public async Task<IReadOnlyList<WaitingReport>> HandleAsync(Viewer viewer, string? station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var rows = await VisibleTo(db, viewer).AsNoTracking().Where(report => report.State == PublicReportState.Waiting)
            .Join(db.Stations, report => report.StationId, row => row.Id, (report, row) => new { Report = report, row.Code })
            .Where(row => station == null || row.Code == station)
            .Join(db.Accesses, row => row.Report.AccessId, access => access.Id, (row, access) => new { row.Report, row.Code, Access = access })
            .OrderBy(row => row.Report.At).Take(Most).ToListAsync(cancel);
        List<WaitingReport> waiting = [];
        foreach (var row in rows)
        {
            string tool = await ToolNameAsync(db, row.Report, cancel);
            waiting.Add(new WaitingReport(
                row.Report.Id, row.Code, $"{row.Access.Name}, {row.Access.Water}",
                PublicReportWords.Sentence(tool, row.Report.Trouble, row.Report.Words),
                SpokenTime.At(row.Report.At, now, row.Access.Zone)));
        }

        return waiting;
    }

    /// <summary>The name of the tool that a report is about; empty when it speaks of the whole station.</summary>
    internal static async Task<string> ToolNameAsync(FleetDbContext db, PublicReport report, CancellationToken cancel) => report.Part.Length == 0
        ? ""
        : await db.Tools.Where(tool => tool.StationId == report.StationId && tool.Slug == report.Part && tool.Installed <= report.At)
            .OrderByDescending(tool => tool.Installed).Select(tool => tool.Name).FirstOrDefaultAsync(cancel) ?? report.Part;
}
