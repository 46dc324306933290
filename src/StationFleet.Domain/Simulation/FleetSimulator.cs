using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>All stations of an invented fleet.</summary>
public sealed class FleetSimulator
{
    private readonly List<StationSimulator> _stations;

    /// <summary>Makes the fleet.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="options">What differs from the file; null for nothing.</param>
    public FleetSimulator(FleetFile fleet, SimulationOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        _stations = [.. fleet.Stations.Select(station => new StationSimulator(fleet, station.Code, options))];
    }

    /// <summary>The stations, in the file's order.</summary>
    public IReadOnlyList<StationSimulator> Stations => _stations;

    /// <summary>The reports of several days, of all stations, in the order in which they are received.</summary>
    /// <param name="first">The first local date.</param>
    /// <param name="last">The last local date.</param>
    /// <param name="onDay">Called with what really happened on each day; null when nobody asks.</param>
    public IEnumerable<SimulatedReport> Run(DateOnly first, DateOnly last, Action<DayTruth>? onDay = null) =>
        Merge(_stations.Select(station => station.Run(first, last, onDay)));

    /// <summary>The reports that arrive in a stretch of time, in order.</summary>
    /// <param name="after">Received after this instant…</param>
    /// <param name="upTo">…and not later than this one.</param>
    public IEnumerable<SimulatedReport> ReceivedBetween(DateTimeOffset after, DateTimeOffset upTo) =>
        Merge(_stations.Select(station => station.ReceivedBetween(after, upTo)));

    private static IEnumerable<SimulatedReport> Merge(IEnumerable<IEnumerable<SimulatedReport>> streams)
    {
        List<IEnumerator<SimulatedReport>> heads = [];
        try
        {
            // The station's place breaks ties, so that the order never depends on the queue.
            PriorityQueue<int, (DateTimeOffset, int)> next = new();
            foreach (IEnumerable<SimulatedReport> stream in streams)
            {
                heads.Add(stream.GetEnumerator());
                Offer(heads.Count - 1);
            }

            while (next.TryDequeue(out int station, out _))
            {
                yield return heads[station].Current;
                Offer(station);
            }

            void Offer(int station)
            {
                if (heads[station].MoveNext())
                {
                    next.Enqueue(station, (heads[station].Current.Received, station));
                }
            }
        }
        finally
        {
            heads.ForEach(head => head.Dispose());
        }
    }
}
