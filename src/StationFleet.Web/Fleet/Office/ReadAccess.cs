using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>One access, with its closures and what stood there.</summary>
public sealed class ReadAccess(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public sealed record ClosureRow(int Id, DateTimeOffset From, DateTimeOffset? To, string Reason);

    public sealed record StandingRow(string Code, DateTimeOffset From, DateTimeOffset? To);

    /// <summary>The whole page; lists are newest first.</summary>
    public sealed record View(
        AccessId Id,
        string Slug,
        string Name,
        string Water,
        AgencyId Host,
        string ZoneId,
        double Latitude,
        double Longitude,
        bool MayChange,
        DateTimeOffset Now,
        IReadOnlyList<ClosureRow> Closures,
        IReadOnlyList<StandingRow> Stations)
    {
        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);

        [JsonIgnore]
        public ClosureRow? Closed => Closures.FirstOrDefault(closure => closure.From <= Now && (closure.To is null || closure.To > Now));
    }

    public async Task<View?> HandleAsync(Viewer viewer, string slug, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Access? access = await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Slug == slug, cancel);
        return access is null
            ? null
            : new View(
                access.Id,
                access.Slug,
                access.Name,
                access.Water,
                access.HostId,
                access.TimeZone,
                access.Latitude,
                access.Longitude,
                AccessRights.MayChange(viewer, access),
                clock.GetUtcNow(),
                await db.AccessClosures.Where(closure => closure.AccessId == access.Id).OrderByDescending(closure => closure.From)
                    .Select(closure => new ClosureRow(closure.Id, closure.From, closure.To, closure.Reason)).ToListAsync(cancel),
                await db.Placements.Where(placement => placement.AccessId == access.Id).OrderByDescending(placement => placement.From)
                    .Join(db.Stations.VisibleTo(viewer), placement => placement.StationId, station => station.Id, (placement, station) => new StandingRow(
                        station.Code, placement.From, placement.To))
                    .ToListAsync(cancel));
    }
}
