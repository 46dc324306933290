using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Accounts;

/// <summary>Makes the roles before anything else starts, and prints the first-run code once everything has.</summary>
internal sealed partial class AccountStart(IServiceScopeFactory scopes, FirstRun firstRun, ILogger<AccountStart> log)
    : IHostedLifecycleService
{
    public async Task StartingAsync(CancellationToken cancellationToken)
    {
        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        RoleManager<IdentityRole> roles = scope.ServiceProvider.GetRequiredService<RoleManager<IdentityRole>>();
        foreach (string name in FleetRoles.All)
        {
            if (!await roles.RoleExistsAsync(name))
            {
                await roles.CreateAsync(new IdentityRole(name));
            }
        }
    }

    public async Task StartedAsync(CancellationToken cancellationToken)
    {
        if (await firstRun.IsOpenAsync(cancellationToken))
        {
            LogCode(firstRun.Code);
        }
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    [LoggerMessage(1001, LogLevel.Warning, "Nobody has an account yet. Open /first-run and enter the code {Code}; it holds until this server stops.")]
    private partial void LogCode(string code);
}
