using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>What keeping raw rows within their limit came to, for one station.</summary>
public abstract record RetentionOutcome
{
    private RetentionOutcome()
    {
    }

    /// <summary>Nothing is old enough, or the watch has not passed it.</summary>
    public sealed record NothingToDo : RetentionOutcome;

    /// <summary>Time is sealed up to an instant, and so many raw rows went.</summary>
    public sealed record Purged(DateTimeOffset UpTo, long Rows) : RetentionOutcome;

    /// <summary>Roll-ups are not what the raw rows say: without the rows nobody could mend them, so all of them stay.</summary>
    public sealed record Differs(IReadOnlyList<RollUpDifference> Differences) : RetentionOutcome;
}

/// <summary>Seals time that is old enough, and removes its raw rows.</summary>
public sealed class Retention(IDbContextFactory<FleetDbContext> databases, FleetDatabase database, MeasurementWriter writer, MeasurementReader reader)
{
    // The watch folds its facts anew so far back when somebody changes a station's setup: it needs raw rows then.
    private static readonly TimeSpan NeededByWatch = WatchEngine.FoldedAgainOnChange + TimeSpan.FromDays(2);

    /// <summary>Seals and purges one station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="keepFrom">Raw rows from this instant on are kept.</param>
    /// <param name="cancel">Stops between two parts of the work; the next run goes on.</param>
    public async Task<RetentionOutcome> RunAsync(StationId station, DateTimeOffset keepFrom, CancellationToken cancel)
    {
        DateTimeOffset? before = await reader.SealedUpToAsync(station, cancel);
        if (await SealableAsync(station, keepFrom, cancel) is not { } upTo || upTo <= before)
        {
            // A purge that was cut short goes on.
            long left = before is null ? 0 : await writer.PurgeAsync(station, cancel);
            return left == 0 ? new RetentionOutcome.NothingToDo() : new RetentionOutcome.Purged(before!.Value, left);
        }

        IReadOnlyList<RollUpDifference> differences = await new RollUpVerifier(database).VerifyAsync(station, cancel);
        return differences.Count > 0 ? new RetentionOutcome.Differs(differences)
            : await writer.SealAsync(station, upTo, cancel) ? new RetentionOutcome.Purged(upTo, await writer.PurgeAsync(station, cancel))
            : new RetentionOutcome.NothingToDo();
    }

    /// <summary>
    /// The last instant that may be sealed: the watch must be able to begin there, so that a late reading is folded in right, and an
    /// hour must end there.
    /// </summary>
    private async Task<DateTimeOffset?> SealableAsync(StationId station, DateTimeOffset keepFrom, CancellationToken cancel)
    {
        IReadOnlyList<LatestValue> latest = await reader.LatestAsync(station, cancel);
        if (latest.Count == 0)
        {
            return null;
        }

        DateTimeOffset needed = latest.Max(value => value.At) - NeededByWatch;
        DateTimeOffset limit = keepFrom < needed ? keepFrom : needed;
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<DateTimeOffset> starts = await db.WatchCheckpoints.Where(checkpoint => checkpoint.StationId == station && checkpoint.AsOf <= limit)
            .OrderByDescending(checkpoint => checkpoint.AsOf).Select(checkpoint => checkpoint.AsOf).ToListAsync(cancel);
        using SqliteConnection connection = database.OpenReader();
        using RawRows raw = new(connection);
        Whereabouts whereabouts = raw.Whereabouts(station);
        return starts.Select(start => (DateTimeOffset?)start).FirstOrDefault(start => whereabouts.HourOf(start!.Value).Start.AddHours(1) == start);
    }
}
