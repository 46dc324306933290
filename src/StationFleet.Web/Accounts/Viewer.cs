using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Accounts;

/// <summary>Who asks: every read handler takes one, so that nobody sees what is not theirs.</summary>
/// <param name="UserId">The account's id.</param>
/// <param name="Name">How pages call the person.</param>
/// <param name="Roles">The person's roles.</param>
/// <param name="Agency">The agency whose stations the person sees; null sees all.</param>
public sealed record Viewer(string UserId, string Name, IReadOnlySet<string> Roles, AgencyId? Agency)
{
    public const string AgencyClaim = "agency";

    public static Viewer From(ClaimsPrincipal user)
    {
        string? agency = user.FindFirstValue(AgencyClaim);
        return new Viewer(
            user.FindFirstValue(ClaimTypes.NameIdentifier) ?? throw new InvalidOperationException("Nobody is signed in."),
            user.Identity?.Name ?? "",
            user.FindAll(ClaimTypes.Role).Select(claim => claim.Value).ToHashSet(StringComparer.Ordinal),
            agency is null ? null : new AgencyId(int.Parse(agency, CultureInfo.InvariantCulture)));
    }

    public static async Task<Viewer> FromAsync(Task<AuthenticationState> authentication) => From((await authentication).User);
}
