using System.Security.Claims;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>A password that an administrator hands over: it is shown once and opens nothing but the page that replaces it.</summary>
internal static class TemporaryPassword
{
    /// <summary>Marks the account until the person has chosen a password.</summary>
    public const string Claim = "temporary-password";

    // Easy to read out: no letters or digits that look alike.
    private const string Alphabet = "abcdefghjkmnpqrstuvwxyz23456789";

    public static string Make() =>
        string.Join('-', Enumerable.Range(0, 4).Select(_ => RandomNumberGenerator.GetString(Alphabet, 4)));

    public static async Task MarkAsync(UserManager<FleetUser> users, FleetUser user)
    {
        if (!(await users.GetClaimsAsync(user)).Any(claim => claim.Type == Claim))
        {
            await users.AddClaimAsync(user, new Claim(Claim, "yes"));
        }
    }

    public static async Task UnmarkAsync(UserManager<FleetUser> users, FleetUser user)
    {
        foreach (Claim claim in (await users.GetClaimsAsync(user)).Where(claim => claim.Type == Claim))
        {
            await users.RemoveClaimAsync(user, claim);
        }
    }
}
