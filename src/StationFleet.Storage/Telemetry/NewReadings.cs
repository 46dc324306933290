using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>What a group of reports brought that was new, by station and series, each ascending in time.</summary>
internal sealed class NewReadings
{
    private readonly Dictionary<StationId, Dictionary<long, (Series Series, List<Reading> Readings)>> _stations = [];

    internal IEnumerable<StationId> Stations => _stations.Keys;

    internal void Add(Series series, Reading reading)
    {
        if (!_stations.TryGetValue(series.Station, out Dictionary<long, (Series Series, List<Reading> Readings)>? bySeries))
        {
            _stations.Add(series.Station, bySeries = []);
        }

        if (!bySeries.TryGetValue(series.Id, out (Series Series, List<Reading> Readings) known))
        {
            bySeries.Add(series.Id, known = (series, []));
        }

        known.Readings.Add(reading);
    }

    internal IReadOnlyCollection<(Series Series, List<Reading> Readings)> Of(StationId station)
    {
        Dictionary<long, (Series Series, List<Reading> Readings)>.ValueCollection all = _stations[station].Values;
        foreach ((_, List<Reading> readings) in all)
        {
            SortIfNeeded(readings);
        }

        return all;
    }

    // Reports come in order, as a rule.
    private static void SortIfNeeded(List<Reading> readings)
    {
        for (int i = 1; i < readings.Count; i++)
        {
            if (readings[i].At < readings[i - 1].At)
            {
                readings.Sort((a, b) => a.At.CompareTo(b.At));
                return;
            }
        }
    }
}
