using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>Gives a person a temporary password; the old one stops working at once.</summary>
internal sealed class ResetPassword(IServiceScopeFactory scopes)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Done(string TemporaryPassword) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, string id, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        UserManager<FleetUser> users = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        if (!viewer.MayManagePeople() || await users.FindByIdAsync(id) is not { } user)
        {
            return new Outcome.NotAllowed();
        }

        string password = TemporaryPassword.Make();
        await TemporaryPassword.MarkAsync(users, user);
        IdentityResult reset = await users.ResetPasswordAsync(user, await users.GeneratePasswordResetTokenAsync(user), password);
        return reset.Succeeded
            ? new Outcome.Done(password)
            : throw new InvalidOperationException($"The account store refused a password of our own making: {reset}");
    }
}
