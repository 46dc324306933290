using Microsoft.Extensions.Options;
using Quartz;
using StationFleet.Web.Mail.Digests;
using StationFleet.Web.Mail.Replies;

namespace StationFleet.Web.Mail;

public static class MailServices
{
    private static readonly TimeSpan DigestsEvery = TimeSpan.FromMinutes(1);

    public static void AddMail(this WebApplicationBuilder builder)
    {
        builder.Services.AddOptions<MailOptions>().BindConfiguration(MailOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services.AddOptions<ImapOptions>().BindConfiguration(ImapOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services.AddOptions<DigestOptions>().BindConfiguration(DigestOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        builder.Services.AddSingleton<SmtpTransport>().AddSingleton<PickupFolder>();
        builder.Services.AddSingleton<IMailTransport>(services =>
            services.GetRequiredService<IOptions<MailOptions>>().Value.UsesServer
                ? services.GetRequiredService<SmtpTransport>()
                : services.GetRequiredService<PickupFolder>());
        builder.Services.AddSingleton<Outbox>().AddSingleton<MailComposer>().AddSingleton<SendMail>();
        builder.Services.AddSingleton<ListMails>().AddSingleton<ReadMail>().AddSingleton<ResendMail>();
        builder.Services.AddSingleton<MailboxNews>().AddSingleton<HandleIncoming>().AddSingleton<ReadReplies>();
        builder.Services.AddSingleton<DigestLinks>().AddSingleton<ReadWeek>().AddSingleton<SendDigests>().AddSingleton<Unsubscribe>();
        builder.Services.AddSingleton<ReadMailChoices>().AddSingleton<SaveMailChoices>();
        builder.AddMailJobs();
    }

    public static void MapMail(this IEndpointRouteBuilder routes) => routes.MapUnsubscribe();

    private static void AddMailJobs(this WebApplicationBuilder builder)
    {
        if (!builder.Configuration.GetValue("Scheduler:Enabled", true))
        {
            return;
        }

        int send = builder.Configuration.GetValue($"{MailOptions.Section}:{nameof(MailOptions.EverySeconds)}", new MailOptions().EverySeconds);
        int read = builder.Configuration.GetValue($"{ImapOptions.Section}:{nameof(ImapOptions.EverySeconds)}", new ImapOptions().EverySeconds);
        bool reads = builder.Configuration[$"{ImapOptions.Section}:{nameof(ImapOptions.Host)}"] is { Length: > 0 };
        builder.AddQuartz(quartz =>
        {
            Every<SendDigestsJob>(quartz, "send-digests", DigestsEvery);
            Every<SendMailJob>(quartz, "send-mail", TimeSpan.FromSeconds(Math.Max(1, send)));
            if (reads)
            {
                Every<ReadRepliesJob>(quartz, "read-replies", TimeSpan.FromSeconds(Math.Max(1, read)));
            }
        });
    }

    private static void Every<TJob>(IQuartzBuilder quartz, string name, TimeSpan interval)
        where TJob : IJob => quartz
        .AddJob<TJob>(job => job.WithIdentity(name))
        .AddTrigger(trigger => trigger.ForJob(name).WithIdentity(name)
            .WithSimpleSchedule(schedule => schedule.WithInterval(interval).RepeatForever()));
}
