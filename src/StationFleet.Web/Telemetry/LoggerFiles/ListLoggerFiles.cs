using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>The stations that a file can be for, and the files that were imported.</summary>
public sealed class ListLoggerFiles(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int MostShown = 100;

    public sealed record Choice(StationId Id, string Code);

    public sealed record Row(int Id, string Station, string FileName, string Who, DateTimeOffset At, ImportEnd End, int Added, int Repeated, int SetAside);

    public sealed record View(IReadOnlyList<Choice> Stations, IReadOnlyList<Row> Imports, bool MayImport, DateTimeOffset Now, string ZoneId);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Choice> stations = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code)
            .Select(station => new Choice(station.Id, station.Code)).ToListAsync(cancel);
        var imports = await db.LoggerFileImports.AsNoTracking()
            .Join(db.Stations.VisibleTo(viewer), import => import.StationId, station => station.Id, (import, station) => new { Import = import, station.Code })
            .OrderByDescending(row => row.Import.Id).Take(MostShown).ToListAsync(cancel);
        return new View(
            stations,
            [.. imports.Select(row => (row.Import, row.Code, Counts: row.Import.ReadCounts())).Select(row => new Row(
                row.Import.Id,
                row.Code,
                row.Import.FileName,
                row.Import.Who,
                row.Import.At,
                row.Import.End,
                row.Counts.Added,
                row.Counts.Repeated,
                row.Counts.SetAside.Sum(reason => reason.Count)))],
            viewer.MayImport(),
            clock.GetUtcNow(),
            options.Value.TimeZone);
    }
}
