using System.Net;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform.Demo;

namespace StationFleet.Web.Tests.Platform;

/// <summary>The demo as it comes up the first time, in a folder of its own, without the scheduler.</summary>
public sealed class DemoApp : WebApplicationFactory<Program>, IAsyncLifetime
{
    /// <summary>The tests that share one demo, since it takes a while to come up.</summary>
    public const string Collection = "demo";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    public DemoApp() => UseKestrel(0);

    public Uri Address => ClientOptions.BaseAddress;

    public async Task InitializeAsync()
    {
        StartServer();
        await Get<DemoProgress>().Ready;
    }

    async Task IAsyncLifetime.DisposeAsync()
    {
        await base.DisposeAsync();
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }

    /// <summary>Waits until the older past is there too.</summary>
    public async Task WholePastAsync()
    {
        DemoProgress progress = Get<DemoProgress>();
        while (progress.Share < 1)
        {
            progress.Text.Should().NotContain("could not");
            await Task.Delay(200);
        }
    }

    /// <summary>A client with the cookie of the demo's person of a role.</summary>
    public async Task<HttpClient> SignedInAsync(string role)
    {
        await using AsyncServiceScope scope = Services.CreateAsyncScope();
        UserManager<FleetUser> people = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        FleetUser person = (await people.GetUsersInRoleAsync(role)).First();
        CookieContainer cookies = new();
        cookies.Add(Address, await SignedIn.CookieAsync(scope.ServiceProvider, person, Address));
        return new HttpClient(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = Address };
    }

    public T Get<T>()
        where T : notnull => Services.GetRequiredService<T>();

    public Task<FleetDbContext> DatabaseAsync() => Get<IDbContextFactory<FleetDbContext>>().CreateDbContextAsync();

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Development");
        builder.UseSetting("Data", _folder.FullName);
        builder.UseSetting("Demo", "true");
        builder.UseSetting("Scheduler:Enabled", "false");
    }
}

[CollectionDefinition(DemoApp.Collection)]
public sealed class SharedDemo : ICollectionFixture<DemoApp>;
