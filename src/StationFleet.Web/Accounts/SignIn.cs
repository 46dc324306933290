using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>
/// Signs a person in. A wrong address, a wrong password and a locked account get the same answer after the same work, so that the
/// page does not tell who has an account.
/// </summary>
internal sealed class SignIn(UserManager<FleetUser> users, SignInManager<FleetUser> signIn, IPasswordHasher<FleetUser> hasher)
{
    private static readonly FleetUser Nobody = new();
    private static string? _nobodysHash;

    internal sealed class Command
    {
        public string? Email { get; set; }

        public string? Password { get; set; }

        public bool Stay { get; set; }
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record SignedIn : Outcome;

        internal sealed record Refused : Outcome;
    }

    public async Task<Outcome> HandleAsync(Command command)
    {
        string password = command.Password ?? "";
        FleetUser? user = await users.FindByEmailAsync((command.Email ?? "").Trim());
        if (user is null || await users.IsLockedOutAsync(user))
        {
            _nobodysHash ??= hasher.HashPassword(Nobody, Guid.NewGuid().ToString());
            hasher.VerifyHashedPassword(Nobody, _nobodysHash, password);
            return new Outcome.Refused();
        }

        SignInResult result = await signIn.PasswordSignInAsync(user, password, command.Stay, lockoutOnFailure: true);
        return result.Succeeded ? new Outcome.SignedIn() : new Outcome.Refused();
    }
}
