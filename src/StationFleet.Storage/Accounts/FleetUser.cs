using Microsoft.AspNetCore.Identity;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Accounts;

/// <summary>A person who signs in.</summary>
public sealed class FleetUser : IdentityUser
{
    /// <summary>How pages and mails call the person.</summary>
    public string DisplayName { get; set; } = "";

    /// <summary>The agency whose stations the person sees; null sees all.</summary>
    public AgencyId? AgencyId { get; set; }
}

/// <summary>The roles; names are stored and must not change.</summary>
public static class FleetRoles
{
    public const string Biologist = "Biologist";
    public const string Technician = "Technician";
    public const string Supervisor = "Supervisor";
    public const string Administrator = "Administrator";

    /// <summary>A volunteer or a member of staff at the ramp: counts boats, reports problems and logs hours, and sees no more than that.</summary>
    public const string Steward = "Steward";

    public static IReadOnlyList<string> All { get; } = [Biologist, Technician, Supervisor, Administrator, Steward];
}
