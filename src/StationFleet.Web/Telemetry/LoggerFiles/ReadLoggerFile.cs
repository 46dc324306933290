using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>One import: how far it is, or what became of it.</summary>
public sealed class ReadLoggerFile(
    IDbContextFactory<FleetDbContext> databases, ImportLoggerFile imports, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>The page.</summary>
    /// <param name="IsUnderWay">It runs now; a row that says so but does not was cut short by the server's end.</param>
    /// <param name="Lines">How many lines the file has, while it runs.</param>
    public sealed record View(
        int Id,
        string Station,
        string FileName,
        long Bytes,
        string Who,
        DateTimeOffset At,
        bool IsUnderWay,
        int Lines,
        LoggerFileCounts Counts,
        bool MayStop,
        DateTimeOffset Now,
        string ZoneId)
    {
        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);
    }

    /// <returns>Null when there is no such import, or not for this person.</returns>
    public async Task<View?> HandleAsync(Viewer viewer, int id, CancellationToken cancel)
    {
        // First this, then the row: an import that ends in between has its end in the row.
        ImportLoggerFile.Running? running = imports.Find(id);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var row = await db.LoggerFileImports.AsNoTracking().Where(import => import.Id == id)
            .Join(db.Stations.VisibleTo(viewer), import => import.StationId, station => station.Id, (import, station) => new { Import = import, station.Code })
            .SingleOrDefaultAsync(cancel);
        if (row is null)
        {
            return null;
        }

        bool isUnderWay = row.Import.End == ImportEnd.Running && running is not null;
        DateTimeOffset now = clock.GetUtcNow();
        return new View(
            id,
            row.Code,
            row.Import.FileName,
            row.Import.Bytes,
            row.Import.Who,
            row.Import.At,
            isUnderWay,
            running?.Lines ?? 0,
            isUnderWay ? running!.Counts : row.Import.ReadCounts(),
            viewer.MayImport(),
            now,
            (await StationZones.OfAsync(db, row.Import.StationId, now, options.Value, cancel)).Id);
    }
}
