namespace StationFleet.Web.Platform.Demo;

/// <summary>Makes the demo at its first start, and lets it catch up at each; pages are shown after that.</summary>
internal sealed class DemoStart(
    LoadDemoFleet fleet, LoadDemoGrants grants, LoadDemoStores stores, LoadRecentPast recent, LiveThroughHours hours, DemoMemory memory, DemoProgress progress, ReportPoster poster)
    : IHostedLifecycleService
{
    private DemoFile? _file;

    /// <summary>Before the server listens: the fleet and its newest month.</summary>
    public async Task StartingAsync(CancellationToken cancellationToken)
    {
        bool isFirst = await memory.FedUpToAsync(cancellationToken) is null;
        if (isFirst)
        {
            recent.Begin();
        }

        _file = await fleet.HandleAsync(cancellationToken);
        await grants.HandleAsync(cancellationToken);
        await stores.HandleAsync(cancellationToken);
        if (isFirst)
        {
            await recent.HandleAsync(await memory.StationsAsync(cancellationToken), cancellationToken);
            await memory.SetFedUpToAsync(DemoFleetFile.HttpFrom, cancellationToken);
        }
    }

    /// <summary>Once it listens: the newest hours through the intake.</summary>
    public async Task StartedAsync(CancellationToken cancellationToken)
    {
        DateTimeOffset since = await memory.FedUpToAsync(cancellationToken) ?? DemoFleetFile.HttpFrom;
        await hours.HandleAsync(since, _file!, cancellationToken);
        progress.SetReady();
        Console.WriteLine(Banner());
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    private string Banner()
    {
        (string station, string key) = _file!.Keys.First();
        IEnumerable<string> people = _file.Accounts.Select(account => $"    {account.Email,-38} {account.Password}   ({account.Role})");
        return $"""

              The demo is ready: {poster.Address}
              Its data are invented. Sign in as
            {string.Join(Environment.NewLine, people)}
              Station {station} reports with the key
                {key}

            """;
    }
}
