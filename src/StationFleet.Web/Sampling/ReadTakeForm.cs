using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>What the form at the tank offers.</summary>
internal sealed class ReadTakeForm(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed record Choice(string Code, string? Place);

    /// <param name="Stations">The stations to choose from.</param>
    /// <param name="LocalNow">The present as a date field wants it, by the clock of the station asked for, else the fleet's.</param>
    internal sealed record View(IReadOnlyList<Choice> Stations, string LocalNow, UnitSystem Units, bool MayTake);

    public async Task<View> HandleAsync(Viewer viewer, string? station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Station> rows = await db.Stations.VisibleTo(viewer).AsNoTracking().OrderBy(row => row.Code).ToListAsync(cancel);
        IReadOnlyDictionary<StationId, Access> standing = await db.StandingAtAsync(now, cancel);
        Station? asked = rows.Find(row => row.Code == station);
        TimeZoneInfo zone = asked is not null && standing.TryGetValue(asked.Id, out Access? there) ? there.Zone : options.Value.Zone;
        return new View(
            [.. rows.Select(row => new Choice(row.Code, standing.TryGetValue(row.Id, out Access? access) ? $"{access.Name}, {access.Water}" : null))],
            LocalTimes.ForField(now, zone), options.Value.Units, viewer.MaySample());
    }
}
