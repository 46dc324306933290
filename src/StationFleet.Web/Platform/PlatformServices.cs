using Microsoft.AspNetCore.DataProtection;
using Quartz;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Platform;

/// <summary>What everything else stands on: paths, clock, database, scheduler, health, limits.</summary>
public static class PlatformServices
{
    private const string DefaultUrl = "http://localhost:5080";

    public static void AddPlatform(this WebApplicationBuilder builder)
    {
        // Loopback only, unless somebody says otherwise.
        if (string.IsNullOrEmpty(builder.Configuration[WebHostDefaults.ServerUrlsKey]))
        {
            builder.WebHost.UseUrls(DefaultUrl);
        }

        builder.WebHost.UseStaticWebAssets();
        bool isDemo = builder.Configuration.GetValue("Demo", false);
        FleetPaths paths = new(DataFolder(builder), isDemo);
        builder.Services.AddSingleton(paths);
        builder.Services.AddOptions<FleetOptions>().BindConfiguration(FleetOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        FleetClock clock = DemoOffset.ClockFor(paths, TimeProvider.System);
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton(clock);
        builder.Services.AddFleetStorage(paths.Database);
        builder.Services.AddSingleton(_ => DataLock.TryTake(paths.Folder) ?? throw new FleetDatabaseException(
            $"Another server, or a stationfleet import, works on {paths.Folder}. Only one program at a time may write there."));
        builder.Services.AddDataProtection().PersistKeysToFileSystem(Directory.CreateDirectory(paths.CookieKeys)).SetApplicationName("StationFleet");
        builder.Services.AddProblemDetails();
        builder.Services.AddHealthChecks();
        builder.AddScheduler(clock);
    }

    public static void UsePlatform(this WebApplication app)
    {
        app.UseExceptionHandler("/error", createScopeForErrors: true);
        app.UseMiddleware<SecurityHeaders>();
        app.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true);
        app.UseRouting();
        app.UseAuthentication();
        app.UseAccountGate();
        app.UseAuthorization();
        app.UseAntiforgery();
    }

    public static void MapPlatform(this WebApplication app)
    {
        app.MapHealthChecks("/health/live").AllowAnonymous();
        app.MapStaticAssets().AllowAnonymous();
    }

    /// <summary>Brings the database up to date before the first request, and its roll-ups, if the last run was killed.</summary>
    public static async Task PrepareAsync(this WebApplication app)
    {
        app.Services.GetRequiredService<DataLock>();
        await app.Services.GetRequiredService<FleetDatabase>().OpenAsync(CancellationToken.None);
        app.Services.GetRequiredService<MeasurementWriter>();
    }

    private static string DataFolder(WebApplicationBuilder builder) =>
        Path.GetFullPath(builder.Configuration["Data"] ?? "data", builder.Environment.ContentRootPath);

    private static void AddScheduler(this WebApplicationBuilder builder, FleetClock clock)
    {
        if (!builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            return;
        }

        // Jobs find their work from watermarks in the database, so the scheduler itself has nothing to remember.
        builder.AddQuartz(quartz =>
        {
            quartz.UseInMemoryStore();
            quartz.UseTimeProvider(clock);
        });
        builder.Services.AddQuartzHostedService(options => options.WaitForJobsToComplete = true);
    }
}
