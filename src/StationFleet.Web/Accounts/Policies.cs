using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>Who may do what beyond reading.</summary>
internal static class Policies
{
    /// <summary>Change stations, accesses and rules: biologists and administrators.</summary>
    public const string ChangeFleet = "change-fleet";

    /// <summary>Manage people: administrators.</summary>
    public const string ManagePeople = "manage-people";

    public static bool MayChangeFleet(this Viewer viewer) =>
        viewer.Roles.Contains(FleetRoles.Biologist) || viewer.Roles.Contains(FleetRoles.Administrator);

    public static bool MayManagePeople(this Viewer viewer) => viewer.Roles.Contains(FleetRoles.Administrator);
}
