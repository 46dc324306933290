using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform.Demo;

namespace StationFleet.Web.Tests.Platform;

/// <summary>The demo as it comes up the first time, in a folder of its own, without the scheduler.</summary>
public sealed class DemoApp : WebApplicationFactory<Program>, IAsyncLifetime
{
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
