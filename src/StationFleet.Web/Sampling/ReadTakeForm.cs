using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
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
        var rows = await db.Stations.VisibleTo(viewer).OrderBy(row => row.Code).Select(row => new
        {
            row.Code,
            Access = db.Accesses.FirstOrDefault(access => db.Placements.Any(placement => placement.StationId == row.Id
                && placement.AccessId == access.Id && placement.From <= now && (placement.To == null || placement.To > now))),
        }).AsNoTracking().ToListAsync(cancel);
        TimeZoneInfo zone = rows.Find(row => row.Code == station)?.Access?.Zone ?? options.Value.Zone;
        return new View(
            [.. rows.Select(row => new Choice(row.Code, row.Access is { } access ? $"{access.Name}, {access.Water}" : null))],
            LocalTimes.ForField(now, zone), options.Value.Units, viewer.MaySample());
    }
}
