using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The stations with how far each is set up.</summary>
public sealed class ListOfficeStations(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public sealed record Row(
        string Code, bool IsPortable, string? Place, string? Water, string Owner, string Operator, int Tools, bool HasTank, bool HasPower, int Keys);

    public async Task<IReadOnlyList<Row>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var places = (await db.Placements
                .Where(placement => placement.From <= now && (placement.To == null || placement.To > now))
                .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) => new { placement.StationId, access.Name, access.Water })
                .ToListAsync(cancel))
            .ToDictionary(place => place.StationId);
        var stations = await db.Stations.VisibleTo(viewer)
            .OrderBy(station => station.Code)
            .Select(station => new
            {
                station.Id,
                station.Code,
                station.IsPortable,
                Owner = db.Agencies.Where(agency => agency.Id == station.OwnerId).Select(agency => agency.Name).First(),
                Operator = db.Agencies.Where(agency => agency.Id == station.OperatorId).Select(agency => agency.Name).First(),
                Tools = db.Tools.Count(tool => tool.StationId == station.Id && tool.Removed == null),
                HasTank = db.StationTanks.Any(tank => tank.StationId == station.Id),
                HasPower = db.StationPowers.Any(power => power.StationId == station.Id),
                Keys = db.StationKeys.Count(key => key.StationId == station.Id && key.Revoked == null),
            })
            .ToListAsync(cancel);
        return [.. stations.Select(station => new Row(
            station.Code, station.IsPortable, places.GetValueOrDefault(station.Id)?.Name, places.GetValueOrDefault(station.Id)?.Water,
            station.Owner, station.Operator, station.Tools, station.HasTank, station.HasPower, station.Keys))];
    }
}
