using Quartz;
using StationFleet.Storage.Grants;

namespace StationFleet.Web.Grants;

public static class GrantServices
{
    private static readonly TimeSpan RemindEvery = TimeSpan.FromMinutes(15);

    public static void AddGrants(this WebApplicationBuilder builder)
    {
        builder.Services.AddOptions<GrantOptions>().BindConfiguration(GrantOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services
            .AddSingleton<RegisterReader>().AddSingleton<ReadRegister>().AddSingleton<ReadItem>().AddSingleton<SaveItem>().AddSingleton<DisposeItem>()
            .AddSingleton<InventoryDesk>().AddSingleton<NoteSighting>()
            .AddSingleton<ReadDueDates>().AddSingleton<ReadAwards>().AddSingleton<ReadAward>().AddSingleton<SaveAward>().AddSingleton<SaveAwardReport>()
            .AddSingleton<SaveIndicator>().AddSingleton<SaveTerms>().AddSingleton<RemindOfReports>()
            .AddSingleton<BookEntry>().AddSingleton<ReadBooks>()
            .AddSingleton<GrantFiles>();
        if (builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            builder.AddQuartz(quartz => quartz
                .AddJob<RemindOfReportsJob>(job => job.WithIdentity("remind-of-reports"))
                .AddTrigger(trigger => trigger.ForJob("remind-of-reports").WithIdentity("remind-of-reports")
                    .WithSimpleSchedule(schedule => schedule.WithInterval(RemindEvery).RepeatForever())));
        }
    }
}
