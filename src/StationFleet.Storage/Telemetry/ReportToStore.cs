using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>A decoded and validated report.</summary>
/// <param name="Station">The station that sent it.</param>
/// <param name="Received">When it arrived, by the fleet's clock.</param>
/// <param name="Measurements">What it measured.</param>
/// <param name="SetAside">Its records that could not be counted; kept with their reasons.</param>
public sealed record ReportToStore(
    StationId Station,
    DateTimeOffset Received,
    IReadOnlyList<IndexedMeasurement> Measurements,
    IReadOnlyList<SetAsideRecord> SetAside)
{
    /// <summary>
    /// A number below zero for a report from before anybody watched: it is known from the start and never counts as new. Null, as
    /// a rule, lets the store number it after all others.
    /// </summary>
    public long? PastId { get; init; }

    /// <summary>How it came; only a report that the station itself sent counts as heard.</summary>
    public ReportSource Source { get; init; }

    /// <summary>How far the controller's clock is ahead, or behind when negative; null when nothing says that it is wrong.</summary>
    public TimeSpan? ClockOff { get; init; }

    /// <summary>Within what time the station promises its next reading; null when it does not say.</summary>
    public TimeSpan? UpdateWithin { get; init; }

    /// <summary>
    /// The numbers of the set-aside records, by their place, when records are tried again (<see cref="ReportSource.Retry"/>): those
    /// that count now stop waiting. Null for every other report.
    /// </summary>
    public IReadOnlyList<long>? TriedAgain { get; init; }
}

/// <summary>What became of a report; it is on disk.</summary>
/// <param name="ReportId">Its number; later reports have larger ones.</param>
/// <param name="Accepted">Measurements that were new.</param>
/// <param name="Repeated">Measurements that were known with the same value.</param>
/// <param name="SetAside">The records set aside before, and those that the store set aside (another value known, one series too many).</param>
public sealed record ReportReceipt(long ReportId, int Accepted, int Repeated, IReadOnlyList<SetAsideRecord> SetAside)
{
    /// <summary>The earliest measurement that was new; null when none was.</summary>
    public DateTimeOffset? OldestAt { get; init; }

    /// <summary>The latest measurement that was new; null when none was.</summary>
    public DateTimeOffset? NewestAt { get; init; }

    /// <summary>The places of those that were known.</summary>
    public IReadOnlyList<int> RepeatedIndices { get; init; } = [];
}

/// <summary>How writing a report ended.</summary>
public abstract record WriteOutcome
{
    private WriteOutcome()
    {
    }

    /// <summary>It is on disk; after a dry run, it could be.</summary>
    public sealed record Stored(ReportReceipt Receipt) : WriteOutcome;

    /// <summary>Nothing was written: too much is waiting, or another program holds the database. Send it again later.</summary>
    public sealed record Busy(TimeSpan RetryAfter) : WriteOutcome;

    /// <summary>Nothing was written: the disk is full.</summary>
    public sealed record DiskFull : WriteOutcome;
}
