using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The measurements and checkpoints that a roll-back may need. The live watch loads them only as far back as
/// <see cref="WatchEngine.HistoryNeeded"/> says; the trial keeps all that it has shown the engine.
/// </summary>
public sealed class WatchHistory
{
    private static readonly Comparer<Measurement> ByInstant = Comparer<Measurement>.Create((a, b) =>
        a.At != b.At ? a.At.CompareTo(b.At) : string.CompareOrdinal(a.Name, b.Name));

    private readonly List<Measurement> _measurements;
    private readonly List<FactsCheckpoint> _checkpoints;

    /// <summary>History from an instant on.</summary>
    /// <param name="from">Everything measured at or after this instant, and known so far, is given; null: from the very beginning.</param>
    /// <param name="measurements">The measurements, in any order.</param>
    /// <param name="checkpoints">Checkpoints, the one at <paramref name="from"/> included.</param>
    public WatchHistory(DateTimeOffset? from, IEnumerable<Measurement> measurements, IEnumerable<FactsCheckpoint> checkpoints)
    {
        From = from;
        _measurements = [.. measurements];
        _measurements.Sort(ByInstant);
        _checkpoints = [.. checkpoints.OrderBy(checkpoint => checkpoint.AsOf)];
    }

    /// <summary>How far the history reaches back; null: to the very beginning.</summary>
    public DateTimeOffset? From { get; }

    /// <summary>A history that begins with what the engine is shown next.</summary>
    /// <param name="state">The engine's state.</param>
    public static WatchHistory After(WatchState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        return new WatchHistory(state.Facts.LastAt, [], []);
    }

    /// <summary>Adds what a report brought.</summary>
    /// <param name="measurements">The measurements, in any order.</param>
    /// <returns>The new ones in the order of measuring; of two for the same name and instant, the first stays.</returns>
    internal IReadOnlyList<Measurement> Add(IReadOnlyList<Measurement> measurements)
    {
        List<Measurement> fresh = new(measurements.Count);
        foreach (Measurement measurement in measurements)
        {
            if (_measurements.Count == 0 || ByInstant.Compare(_measurements[^1], measurement) < 0
                || _measurements.BinarySearch(measurement, ByInstant) < 0)
            {
                fresh.Add(measurement);
            }
        }

        // A stable order, so that of two equal keys the first in the report stays.
        fresh = [.. fresh.Order(ByInstant)];
        for (int i = fresh.Count - 1; i > 0; i--)
        {
            if (ByInstant.Compare(fresh[i - 1], fresh[i]) == 0)
            {
                fresh.RemoveAt(i);
            }
        }

        Merge(fresh);
        return fresh;
    }

    /// <summary>The measurements at or after an instant, in the order of measuring.</summary>
    /// <param name="from">The instant; null: all.</param>
    internal ReadOnlySpan<Measurement> Since(DateTimeOffset? from) =>
        System.Runtime.InteropServices.CollectionsMarshal.AsSpan(_measurements)[(from is { } at ? FirstAt(at) : 0)..];

    /// <summary>The last checkpoint at or before an instant; null when there is none: fold from the very beginning.</summary>
    /// <param name="at">The instant.</param>
    internal FactsCheckpoint? CheckpointAt(DateTimeOffset at)
    {
        FactsCheckpoint? checkpoint = _checkpoints.FindLast(c => c.AsOf <= at);
        return (checkpoint?.AsOf ?? DateTimeOffset.MinValue) >= (From ?? DateTimeOffset.MinValue)
            ? checkpoint
            : throw new InvalidOperationException($"The history reaches back to {From:O} only, and {at:O} is needed.");
    }

    /// <summary>Keeps a checkpoint.</summary>
    /// <param name="checkpoint">The checkpoint; later than all others that are kept.</param>
    internal void Keep(FactsCheckpoint checkpoint) => _checkpoints.Add(checkpoint);

    /// <summary>Forgets the checkpoints from an instant on.</summary>
    /// <param name="from">The instant.</param>
    internal void ForgetFrom(DateTimeOffset from) => _checkpoints.RemoveAll(checkpoint => checkpoint.AsOf >= from);

    private void Merge(List<Measurement> fresh)
    {
        if (fresh.Count == 0)
        {
            return;
        }

        int start = FirstAt(fresh[0].At);
        _measurements.AddRange(fresh);
        if (start < _measurements.Count - fresh.Count)
        {
            _measurements.Sort(start, _measurements.Count - start, ByInstant);
        }
    }

    private int FirstAt(DateTimeOffset at)
    {
        (int low, int high) = (0, _measurements.Count);
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _measurements[middle].At < at ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
