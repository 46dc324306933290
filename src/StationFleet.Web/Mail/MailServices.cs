using Microsoft.Extensions.Options;
using Quartz;

namespace StationFleet.Web.Mail;

public static class MailServices
{
    public static void AddMail(this WebApplicationBuilder builder)
    {
        builder.Services.AddOptions<MailOptions>().BindConfiguration(MailOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services.AddSingleton<SmtpTransport>().AddSingleton<PickupFolder>();
        builder.Services.AddSingleton<IMailTransport>(services =>
            services.GetRequiredService<IOptions<MailOptions>>().Value.UsesServer
                ? services.GetRequiredService<SmtpTransport>()
                : services.GetRequiredService<PickupFolder>());
        builder.Services.AddSingleton<MailComposer>().AddSingleton<SendMail>();
        builder.Services.AddSingleton<ListMails>().AddSingleton<ReadMail>().AddSingleton<ResendMail>();
        builder.AddSendMailJob();
    }

    private static void AddSendMailJob(this WebApplicationBuilder builder)
    {
        if (!builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            return;
        }

        int seconds = builder.Configuration.GetValue($"{MailOptions.Section}:{nameof(MailOptions.EverySeconds)}", new MailOptions().EverySeconds);
        builder.AddQuartz(quartz => quartz
            .AddJob<SendMailJob>(job => job.WithIdentity("send-mail"))
            .AddTrigger(trigger => trigger.ForJob("send-mail").WithIdentity("send-mail")
                .WithSimpleSchedule(schedule => schedule.WithInterval(TimeSpan.FromSeconds(Math.Max(1, seconds))).RepeatForever())));
    }
}
