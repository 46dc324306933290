using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The public accesses, with what stands there and which are closed; accesses are public, so everybody sees them all.</summary>
public sealed class ListAccesses(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public sealed record Row(
        string Slug, string Name, string Water, string Host, string ZoneId, IReadOnlyList<string> Stations, string? ClosedFor, DateTimeOffset? ClosedUntil);

    public async Task<IReadOnlyList<Row>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var stations = (await db.Placements
                .Where(placement => placement.From <= now && (placement.To == null || placement.To > now))
                .Join(db.Stations.VisibleTo(viewer), placement => placement.StationId, station => station.Id, (placement, station) => new { placement.AccessId, station.Code })
                .OrderBy(row => row.Code)
                .ToListAsync(cancel))
            .ToLookup(row => row.AccessId, row => row.Code);
        var closed = (await db.AccessClosures
                .Where(closure => closure.From <= now && (closure.To == null || closure.To > now))
                .OrderByDescending(closure => closure.From)
                .ToListAsync(cancel))
            .ToLookup(closure => closure.AccessId);
        var accesses = await db.Accesses
            .OrderBy(access => access.Water).ThenBy(access => access.Name)
            .Select(access => new
            {
                access.Id,
                access.Slug,
                access.Name,
                access.Water,
                Host = db.Agencies.Where(agency => agency.Id == access.HostId).Select(agency => agency.Name).First(),
                access.TimeZone,
            })
            .ToListAsync(cancel);
        return [.. accesses.Select(access => new Row(
            access.Slug, access.Name, access.Water, access.Host, access.TimeZone, [.. stations[access.Id]],
            closed[access.Id].FirstOrDefault()?.Reason, closed[access.Id].FirstOrDefault()?.To))];
    }
}
