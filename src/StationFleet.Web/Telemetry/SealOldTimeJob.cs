using Quartz;

namespace StationFleet.Web.Telemetry;

[DisallowConcurrentExecution]
internal sealed class SealOldTimeJob(SealOldTime sealOldTime) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) =>
        await sealOldTime.HandleAsync(cancellationToken);
}
