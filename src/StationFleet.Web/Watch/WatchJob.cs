using Quartz;

namespace StationFleet.Web.Watch;

[DisallowConcurrentExecution]
internal sealed class WatchJob(RunWatch runWatch) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) =>
        await runWatch.HandleAsync(cancellationToken);
}
