using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Telemetry;

/// <summary>Which records set aside a person means: of one station or all, of one kind or all, or a single one.</summary>
/// <param name="Station">The station's code; null means all.</param>
/// <param name="Kind">The kind; null means all.</param>
/// <param name="Id">The record; null means all.</param>
internal sealed record SetAsideSelection(string? Station = null, SetAsideKind? Kind = null, long? Id = null);

/// <summary>Who sees records set aside, and whose.</summary>
internal static class SetAsideAccess
{
    public static bool MayReadSetAside(this Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Biologist, FleetRoles.Supervisor, FleetRoles.Administrator]);

    /// <summary>The stations that the person sees, by id.</summary>
    public static async Task<IReadOnlyDictionary<StationId, Station>> StationsOfAsync(
        this FleetDbContext db, Viewer viewer, string? code, CancellationToken cancel) => await db.Stations.AsNoTracking().VisibleTo(viewer)
        .Where(station => code == null || station.Code == code)
        .ToDictionaryAsync(station => station.Id, cancel);
}
