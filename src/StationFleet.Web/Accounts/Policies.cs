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

    /// <summary>Bring loggers' files: whoever works with stations.</summary>
    public static bool MayImport(this Viewer viewer) => viewer.MayChangeFleet() || viewer.Roles.Contains(FleetRoles.Technician);

    /// <summary>Has no other role than a steward's: sees only what is open to stewards.</summary>
    public static bool IsOnlySteward(this Viewer viewer) => viewer.Roles.Count == 1 && viewer.Roles.Contains(FleetRoles.Steward);

    public static bool MayManagePeople(this Viewer viewer) => viewer.Roles.Contains(FleetRoles.Administrator);
}
