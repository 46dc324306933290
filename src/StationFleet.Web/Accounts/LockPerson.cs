using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>Locks an account, so that its person cannot sign in, or unlocks it; the past of the person stays.</summary>
internal sealed class LockPerson(IServiceScopeFactory scopes)
{
    internal sealed record Command(string Id, bool Lock);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Done : Outcome;

        internal sealed record LastAdministratorStays : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        UserManager<FleetUser> users = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        if (!viewer.MayManagePeople() || await users.FindByIdAsync(command.Id) is not { } user)
        {
            return new Outcome.NotAllowed();
        }

        if (!command.Lock)
        {
            await users.SetLockoutEndDateAsync(user, null);
            await users.ResetAccessFailedCountAsync(user);
            return new Outcome.Done();
        }

        if (await users.IsInRoleAsync(user, FleetRoles.Administrator) && await LastAdministrator.IsAsync(users, user))
        {
            return new Outcome.LastAdministratorStays();
        }

        await users.SetLockoutEnabledAsync(user, true);
        await users.SetLockoutEndDateAsync(user, DateTimeOffset.MaxValue);
        await users.UpdateSecurityStampAsync(user);
        return new Outcome.Done();
    }
}
