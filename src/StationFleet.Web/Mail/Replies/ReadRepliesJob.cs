using Quartz;

namespace StationFleet.Web.Mail.Replies;

[DisallowConcurrentExecution]
internal sealed class ReadRepliesJob(ReadReplies readReplies) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) =>
        await readReplies.HandleAsync(cancellationToken);
}
