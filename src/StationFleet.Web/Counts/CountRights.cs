using StationFleet.Storage.Accounts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Counts;

/// <summary>Who counts boats, and whose counts one sees and corrects.</summary>
internal static class CountRights
{
    /// <summary>Count: whoever works here.</summary>
    public static bool MayCount(this Viewer viewer) => viewer.Roles.Overlaps(FleetRoles.All);

    /// <summary>Answer for the counts of others too: biologists, supervisors and administrators.</summary>
    public static bool MayKeepCounts(this Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Biologist, FleetRoles.Supervisor, FleetRoles.Administrator]);

    /// <summary>The shifts of the stations that a person sees; a steward's own only.</summary>
    public static IQueryable<CountShiftRow> CountShiftsVisibleTo(this FleetDbContext db, Viewer viewer)
    {
        bool isOwnOnly = viewer.IsOnlySteward();
        return db.CountShifts.Where(shift => db.Stations.VisibleTo(viewer).Any(station => station.Id == shift.StationId)
            && (!isOwnOnly || shift.CountedById == viewer.UserId));
    }

    public static bool MayCorrect(this Viewer viewer, CountShiftRow shift) => viewer.MayKeepCounts() || shift.CountedById == viewer.UserId;
}
