using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Grants;

/// <summary>Who may do what with awards and equipment.</summary>
internal static class GrantRights
{
    /// <summary>Who sees and exports awards, equipment, time and cost.</summary>
    public const string ReadRoles = SeasonEndpoints.ExportRoles;

    /// <summary>Change awards and equipment, and see what they cost: supervisors, biologists and administrators.</summary>
    public static bool MayKeepBooks(this Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Supervisor, FleetRoles.Biologist, FleetRoles.Administrator]);

    /// <summary>Note what was seen of an item, and one's own hours: whoever works here.</summary>
    public static bool MayLog(this Viewer viewer) => viewer.MayKeepBooks() || viewer.Roles.Overlaps([FleetRoles.Technician, FleetRoles.Steward]);
}
