using Quartz;
using StationFleet.Web.Platform;
using StationFleet.Web.Telemetry.LoggerFiles;

namespace StationFleet.Web.Telemetry;

public static class TelemetryServices
{
    private const string EveryNight = "0 30 2 * * ?";

    public static void AddTelemetry(this WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<StationKeys>().AddSingleton<ReportLimiter>().AddSingleton<AcceptReport>()
            .AddSingleton<ReportJournal>().AddSingleton<ReportIntake>();
        builder.Services.AddSingleton<ReadSetAside>().AddSingleton<RetrySetAside>().AddSingleton<DiscardSetAside>()
            .AddSingleton<ReadReports>().AddSingleton<TryPastedReport>();
        builder.Services.AddSingleton<UploadFolder>().AddSingleton<LookAtLoggerFile>().AddSingleton<ImportLoggerFile>()
            .AddSingleton<ListLoggerFiles>().AddSingleton<ReadLoggerFile>().AddSingleton<SealOldTime>();
        builder.Services.AddOptions<RetentionOptions>().BindConfiguration(RetentionOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        if (!builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            return;
        }

        string zone = builder.Configuration.GetValue($"{FleetOptions.Section}:{nameof(FleetOptions.TimeZone)}", new FleetOptions().TimeZone);
        builder.AddQuartz(quartz => quartz
            .AddJob<SealOldTimeJob>(job => job.WithIdentity("seal-old-time"))
            .AddTrigger(trigger => trigger.ForJob("seal-old-time").WithIdentity("seal-old-time")
                .WithCronSchedule(EveryNight, schedule => schedule.InTimeZone(TimeZoneInfo.FindSystemTimeZoneById(zone)))));
    }
}
