using Quartz;

namespace StationFleet.Web.Service.Alone;

public static class AloneServices
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMinutes(1);

    public static void AddAlone(this WebApplicationBuilder builder)
    {
        builder.Services.AddSingleton<ReadOuting>().AddSingleton<OutingDesk>().AddSingleton<TellLate>();
        if (builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            builder.AddQuartz(quartz => quartz
                .AddJob<TellLateJob>(job => job.WithIdentity("tell-late"))
                .AddTrigger(trigger => trigger.ForJob("tell-late").WithIdentity("tell-late")
                    .WithSimpleSchedule(schedule => schedule.WithInterval(LookEvery).RepeatForever())));
        }
    }
}
