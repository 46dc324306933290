using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>Keeps the raw readings of each station within their limit; what goes wrong at one does not stop the others.</summary>
internal sealed partial class SealOldTime(
    IDbContextFactory<FleetDbContext> databases,
    Retention retention,
    FleetClock clock,
    IOptions<RetentionOptions> options,
    ILogger<SealOldTime> logger)
{
    /// <returns>How many raw readings went.</returns>
    public async Task<long> HandleAsync(CancellationToken cancel)
    {
        if (options.Value.RawDays is not { } days)
        {
            return 0;
        }

        DateTimeOffset keepFrom = clock.GetUtcNow().AddDays(-days);
        long purged = 0;
        foreach (StationId station in await StationsAsync(cancel))
        {
            try
            {
                switch (await retention.RunAsync(station, keepFrom, cancel))
                {
                    case RetentionOutcome.Purged gone:
                        purged += gone.Rows;
                        LogPurged(gone.Rows, station.Value, gone.UpTo);
                        break;
                    case RetentionOutcome.Differs wrong:
                        LogDiffers(station.Value, wrong.Differences.Count);
                        break;
                }
            }
            catch (Exception failure) when (failure is not OperationCanceledException || !cancel.IsCancellationRequested)
            {
                LogFailed(failure, station.Value);
            }
        }

        return purged;
    }

    private async Task<List<StationId>> StationsAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Stations.OrderBy(station => station.Id).Select(station => station.Id).ToListAsync(cancel);
    }

    [LoggerMessage(2131, LogLevel.Information, "{Rows} raw readings of station {Station} up to {UpTo:O} are gone; their sums stay.")]
    private partial void LogPurged(long rows, int station, DateTimeOffset upTo);

    [LoggerMessage(2132, LogLevel.Error, "{Count} roll-ups of station {Station} are not what its raw readings say, so none of those is purged. 'stationfleet verify' names them.")]
    private partial void LogDiffers(int station, int count);

    [LoggerMessage(2133, LogLevel.Error, "Purging old raw readings of station {Station} failed; it is tried again next night.")]
    private partial void LogFailed(Exception failure, int station);
}
