using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>A page can stay open for days: asks now and then whether its person may still be signed in.</summary>
internal sealed class CircuitWatch(ILoggerFactory logs, IServiceScopeFactory scopes, IOptions<IdentityOptions> options)
    : RevalidatingServerAuthenticationStateProvider(logs)
{
    /// <summary>How soon a lock, a new role or a new password reaches browsers that are signed in.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMinutes(5);

    protected override TimeSpan RevalidationInterval => Interval;

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        UserManager<FleetUser> users = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        FleetUser? user = await users.GetUserAsync(authenticationState.User);
        return user is not null
            && authenticationState.User.FindFirstValue(options.Value.ClaimsIdentity.SecurityStampClaimType) == await users.GetSecurityStampAsync(user);
    }
}
