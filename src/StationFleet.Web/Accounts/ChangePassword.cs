using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>Changes the signed-in person's own password; other browsers where the person is signed in are signed out.</summary>
internal sealed class ChangePassword(UserManager<FleetUser> users, SignInManager<FleetUser> signIn)
{
    internal sealed class Command
    {
        public string? Present { get; set; }

        public string? Password { get; set; }

        public string? PasswordAgain { get; set; }
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Changed : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record SignedOut : Outcome;
    }

    public async Task<Outcome> HandleAsync(ClaimsPrincipal person, Command command)
    {
        if (await users.GetUserAsync(person) is not { } user || await users.IsLockedOutAsync(user))
        {
            return new Outcome.SignedOut();
        }

        Typed typed = new();
        typed.NewPassword(nameof(Command.Password), command.Password, nameof(Command.PasswordAgain), command.PasswordAgain);
        if (typed.Wrong.Count == 0 && string.Equals(command.Present, command.Password, StringComparison.Ordinal))
        {
            typed.Wrong.Note(nameof(Command.Password), "This is the present one. Choose another.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        IdentityResult changed = await users.ChangePasswordAsync(user, command.Present ?? "", command.Password!);
        if (!changed.Succeeded)
        {
            // Guessing the present password here is guessing it at the sign-in page.
            await users.AccessFailedAsync(user);
            WrongFields wrong = [];
            if (changed.Errors.Any(error => error.Code == nameof(IdentityErrorDescriber.PasswordMismatch)))
            {
                wrong.Note(nameof(Command.Present), "This is not your present password.");
            }
            else
            {
                wrong.NoteRefusals(changed, nameof(Command.Present), nameof(Command.Password));
            }

            return new Outcome.Refused(wrong);
        }

        await TemporaryPassword.UnmarkAsync(users, user);
        await signIn.RefreshSignInAsync(user);
        return new Outcome.Changed();
    }
}
