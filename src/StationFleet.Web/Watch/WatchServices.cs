using Quartz;
using StationFleet.Storage.Fleet;

namespace StationFleet.Web.Watch;

public static class WatchServices
{
    public static void AddWatch(this WebApplicationBuilder builder)
    {
        builder.Services.AddOptions<WatchOptions>().BindConfiguration(WatchOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services.AddSingleton<StationSetupReader>();
        builder.Services.AddSingleton<WatchStation>();
        builder.Services.AddSingleton<ReadWatchState>().AddSingleton<ReadToolVerdicts>().AddSingleton<NoteServerAlive>().AddSingleton<RunWatch>();
        builder.AddWatchJob();
    }

    private static void AddWatchJob(this WebApplicationBuilder builder)
    {
        if (!builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            return;
        }

        int minutes = builder.Configuration.GetValue($"{WatchOptions.Section}:{nameof(WatchOptions.EveryMinutes)}", new WatchOptions().EveryMinutes);
        builder.AddQuartz(quartz => quartz
            .AddJob<WatchJob>(job => job.WithIdentity("watch"))
            .AddTrigger(trigger => trigger.ForJob("watch").WithIdentity("watch")
                .WithSimpleSchedule(schedule => schedule.WithInterval(TimeSpan.FromMinutes(Math.Max(1, minutes))).RepeatForever())));
    }
}
