using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Watch;

/// <summary>Finds stations that fell silent at the same time, among those that stand somewhere and are not laid up.</summary>
internal sealed class FindSilentTogether(IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements)
{
    /// <returns>They, or null when there are none.</returns>
    public async Task<SilentTogether?> HandleAsync(DateTimeOffset now, CancellationToken cancel)
    {
        IReadOnlyDictionary<StationId, DateTimeOffset> heard = await measurements.LastHeardAsync(cancel);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var required = await db.Stations
            .Where(station => db.Placements.Any(p => p.StationId == station.Id && p.From <= now && (p.To == null || p.To > now))
                && !db.WinterStorages.Any(w => w.StationId == station.Id && w.From <= now && (w.To == null || w.To > now)))
            .Select(station => new { station.Id, station.Code })
            .ToListAsync(cancel);
        return SilentTogether.Find(
            [.. required.Where(station => heard.ContainsKey(station.Id)).Select(station => (station.Code, heard[station.Id]))], now);
    }
}
