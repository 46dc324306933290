using Quartz;

namespace StationFleet.Web.Mail.Digests;

[DisallowConcurrentExecution]
internal sealed class SendDigestsJob(SendDigests sendDigests) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) =>
        await sendDigests.HandleAsync(cancellationToken);
}
