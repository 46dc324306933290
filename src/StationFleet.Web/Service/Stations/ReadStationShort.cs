using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Stations;

/// <summary>What somebody at a station wants to know of it in a hurry; public, since a part of pages takes it.</summary>
/// <param name="Code">The station's code.</param>
/// <param name="Place">Where it stands; null in transit.</param>
/// <param name="AccessCode">What opens gate and boxes; may be empty.</param>
/// <param name="KeyHolders">Who has the keys; may be empty.</param>
/// <param name="Visits">The last five, the newest first.</param>
public sealed record StationShortFacts(string Code, string? Place, string AccessCode, string KeyHolders, IReadOnlyList<StationShortVisit> Visits);

/// <summary>A service visit.</summary>
/// <param name="When">The local day.</param>
/// <param name="Who">The person.</param>
/// <param name="Note">What was found and done; may be empty.</param>
public sealed record StationShortVisit(string When, string Who, string Note);

/// <summary>Stations in short, for the phone.</summary>
internal sealed class ReadStationShort(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int Visits = 5;

    /// <summary>Those that the person may see, by code.</summary>
    public async Task<IReadOnlyList<StationShortFacts>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Station> stations = await db.Stations.VisibleTo(viewer).AsNoTracking().OrderBy(row => row.Code).ToListAsync(cancel);
        List<StationShortFacts> facts = [];
        foreach (Station station in stations)
        {
            facts.Add(await OfAsync(db, station, cancel));
        }

        return facts;
    }

    /// <summary>One station that the caller has made sure the person may see.</summary>
    public async Task<StationShortFacts> OfAsync(FleetDbContext db, Station station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        Access? access = await db.AccessAtAsync(station.Id, now, cancel);
        TimeZoneInfo zone = access?.Zone ?? options.Value.Zone;
        var visits = await db.ServiceVisits
            .Where(visit => visit.StationId == station.Id && visit.At <= now)
            .OrderByDescending(visit => visit.At).Take(Visits)
            .Select(visit => new { visit.At, visit.Who, visit.Note })
            .ToListAsync(cancel);
        return new StationShortFacts(
            station.Code,
            access is null ? null : $"{access.Name}, {access.Water}",
            station.AccessCode,
            station.KeyHolders,
            [.. visits.Select(visit => new StationShortVisit(LocalTimes.SayDay(visit.At, zone), visit.Who, visit.Note ?? ""))]);
    }
}
