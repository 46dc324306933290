using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The agencies, with what each owns, runs and hosts among what the person sees.</summary>
public sealed class ListAgencies(IDbContextFactory<FleetDbContext> databases)
{
    public sealed record Row(AgencyId Id, string Name, int Owns, int Runs, int Hosts);

    public async Task<IReadOnlyList<Row>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Agencies
            .OrderBy(agency => agency.Name)
            .Select(agency => new Row(
                agency.Id,
                agency.Name,
                db.Stations.VisibleTo(viewer).Count(station => station.OwnerId == agency.Id),
                db.Stations.VisibleTo(viewer).Count(station => station.OperatorId == agency.Id),
                db.Accesses.Count(access => access.HostId == agency.Id)))
            .ToListAsync(cancel);
    }
}
