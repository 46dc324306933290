using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>An installation must keep one administrator who can sign in.</summary>
internal static class LastAdministrator
{
    public static async Task<bool> IsAsync(UserManager<FleetUser> users, FleetUser user)
    {
        foreach (FleetUser other in await users.GetUsersInRoleAsync(FleetRoles.Administrator))
        {
            if (other.Id != user.Id && !await users.IsLockedOutAsync(other))
            {
                return false;
            }
        }

        return true;
    }
}
