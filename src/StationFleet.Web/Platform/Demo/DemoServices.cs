namespace StationFleet.Web.Platform.Demo;

/// <summary>The demo: an invented fleet with its past, whose stations go on reporting while the server runs.</summary>
public static class DemoServices
{
    public static void AddDemo(this WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<DemoProgress>();
        if (!builder.Configuration.GetValue("Demo", false))
        {
            return;
        }

        DemoFleetFile file = new();
        builder.Services.PostConfigure<FleetOptions>(options =>
            (options.Organization, options.TimeZone, options.Units) = (file.Fleet.Name, file.Fleet.TimeZone, file.Fleet.Units));
        builder.Services.AddSingleton(file);
        builder.Services.AddSingleton<DemoMemory>().AddSingleton<DemoWorld>().AddSingleton<DemoReports>().AddSingleton<ReportPoster>();
        builder.Services.AddSingleton<LoadDemoFleet>().AddSingleton<LoadDemoGrants>().AddSingleton<LoadDemoStores>().AddSingleton<LoadRecentPast>()
            .AddSingleton<DemoCounts>().AddSingleton<LiveThroughHours>();
        builder.Services.AddHostedService<DemoStart>().AddHostedService<DemoFeed>().AddHostedService<DemoBackfill>();
    }

    /// <summary>Lets a browser wait until the newest month is there; controllers and the health check need not.</summary>
    public static void UseDemo(this WebApplication app)
    {
        if (!app.Configuration.GetValue("Demo", false))
        {
            return;
        }

        DemoProgress progress = app.Services.GetRequiredService<DemoProgress>();
        app.Use(async (context, next) =>
        {
            if (!context.Request.Path.StartsWithSegments("/api") && !context.Request.Path.StartsWithSegments("/health"))
            {
                await progress.Ready.WaitAsync(context.RequestAborted);
            }

            await next(context);
        });
    }
}
