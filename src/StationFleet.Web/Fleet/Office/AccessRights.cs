using StationFleet.Storage.Fleet;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Who may change an access: a person of the agency that hosts it, or one who is bound to no agency.</summary>
internal static class AccessRights
{
    public static bool MayChange(Viewer viewer, Access access) =>
        viewer.MayChangeFleet() && (viewer.Agency is null || viewer.Agency == access.HostId);
}
