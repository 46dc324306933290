using Quartz;

namespace StationFleet.Web.Mail;

[DisallowConcurrentExecution]
internal sealed class SendMailJob(SendMail sendMail) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) =>
        await sendMail.HandleAsync(cancellationToken);
}
