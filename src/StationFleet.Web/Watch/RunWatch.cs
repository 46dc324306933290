using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>Watches every station up to now; what goes wrong at one does not stop the others.</summary>
internal sealed partial class RunWatch(
    IDbContextFactory<FleetDbContext> databases,
    NoteServerAlive alive,
    FindSilentTogether silences,
    WatchStation watchStation,
    FleetClock clock,
    ILogger<RunWatch> logger)
{
    /// <summary>What a run did.</summary>
    internal sealed record Outcome(int Stations, int Failed, int Raised);

    public async Task<Outcome> HandleAsync(CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        (int failed, int raised) = (0, 0);
        await alive.HandleAsync(now, cancel);
        SilentTogether? together = await silences.HandleAsync(now, cancel);
        IReadOnlyList<StationId> stations = await StationsAsync(cancel);
        foreach (StationId station in stations)
        {
            try
            {
                raised += await watchStation.HandleAsync(station, now, together, cancel);
            }
            catch (Exception failure) when (failure is not OperationCanceledException || !cancel.IsCancellationRequested)
            {
                failed++;
                LogFailed(station.Value, failure);
            }
        }

        if (raised > 0)
        {
            LogRaised(raised);
        }

        return new Outcome(stations.Count, failed, raised);
    }

    private async Task<IReadOnlyList<StationId>> StationsAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Stations.OrderBy(station => station.Id).Select(station => station.Id).ToListAsync(cancel);
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The watch over station {Station} failed; it is tried again next time.")]
    private partial void LogFailed(int station, Exception failure);

    [LoggerMessage(Level = LogLevel.Information, Message = "The watch raised or reopened {Count} tickets.")]
    private partial void LogRaised(int count);
}
