using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>Puts the person's display name and agency into the cookie, so that a page need not ask the database who it is.</summary>
internal sealed class ViewerClaims(
    UserManager<FleetUser> users, RoleManager<IdentityRole> roles, IOptions<IdentityOptions> options)
    : UserClaimsPrincipalFactory<FleetUser, IdentityRole>(users, roles, options)
{
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(FleetUser user)
    {
        ClaimsIdentity identity = await base.GenerateClaimsAsync(user);
        if (user.DisplayName.Length > 0 && identity.FindFirst(identity.NameClaimType) is { } name)
        {
            identity.RemoveClaim(name);
            identity.AddClaim(new Claim(identity.NameClaimType, user.DisplayName));
        }

        if (user.AgencyId is { } agency)
        {
            identity.AddClaim(new Claim(Viewer.AgencyClaim, agency.Value.ToString(CultureInfo.InvariantCulture)));
        }

        return identity;
    }
}
