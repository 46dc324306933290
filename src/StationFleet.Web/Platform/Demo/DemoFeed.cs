using StationFleet.Domain.Simulation;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Lets the stations report as the fleet's time passes.</summary>
internal sealed partial class DemoFeed(
    DemoWorld world, DemoMemory memory, FleetPaths paths, ReportPoster poster, DemoProgress progress, FleetClock clock, ILogger<DemoFeed> logger)
    : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(10);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await progress.Ready.WaitAsync(stoppingToken);
        DemoFile keys = await DemoFile.LoadAsync(paths, stoppingToken) ?? throw new InvalidOperationException("The demo's keys have gone.");
        DateTimeOffset fed = await memory.FedUpToAsync(stoppingToken) ?? DemoFleetFile.HttpFrom;
        using PeriodicTimer timer = new(Every, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                fed = await FeedAsync(fed, keys, stoppingToken);
            }
            catch (Exception failure) when (failure is not OperationCanceledException)
            {
                LogFailed(failure);
            }
        }
    }

    private async Task<DateTimeOffset> FeedAsync(DateTimeOffset fed, DemoFile keys, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        FleetSimulator simulator = await world.SimulatorAsync(cancel);
        bool isAny = false;
        foreach (SimulatedReport report in simulator.ReceivedBetween(fed, now))
        {
            await poster.PostAsync(report, keys, cancel);
            isAny = true;
        }

        if (isAny)
        {
            await memory.SetFedUpToAsync(now, cancel);
        }

        return now;
    }

    [LoggerMessage(3102, LogLevel.Warning, "The demo's stations could not report; they try again.")]
    private partial void LogFailed(Exception failure);
}
