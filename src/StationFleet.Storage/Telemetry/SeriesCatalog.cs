using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>One interned series.</summary>
internal sealed record Series(long Id, StationId Station, string Name, SeriesNature Nature);

/// <summary>The series of each station, as the writer knows them; it is the only one that makes any.</summary>
internal sealed class SeriesCatalog(SqliteConnection connection) : IDisposable
{
    internal const int MostPerStation = 64;

    private readonly Dictionary<StationId, Dictionary<string, Series>> _stations = [];

    private readonly Statement _load = new(
        connection, "SELECT id, name, kind, wraps_at FROM series WHERE station_id = ?1");

    private readonly Statement _add = new(
        connection, "INSERT INTO series (station_id, name, kind) VALUES (?1, ?2, ?3) RETURNING id");

    /// <summary>The station's series by name.</summary>
    internal IReadOnlyDictionary<string, Series> Of(StationId station) => Load(station);

    /// <summary>The series of a name, made when it is new; null when the station already has as many as it may.</summary>
    internal Series? FindOrAdd(StationId station, string name)
    {
        Dictionary<string, Series> known = Load(station);
        if (known.TryGetValue(name, out Series? series))
        {
            return series;
        }

        if (known.Count >= MostPerStation)
        {
            return null;
        }

        SeriesKind kind = MeasurementName.KindOf(name);
        series = new Series(_add.First(row => row.Integer(0), station.Value, name, kind.ToString()), station, name, new SeriesNature(kind));
        known.Add(name, series);
        return series;
    }

    /// <summary>Forgets a station, whose newest series may have been rolled back or changed.</summary>
    internal void Forget(StationId station) => _stations.Remove(station);

    public void Dispose()
    {
        _load.Dispose();
        _add.Dispose();
    }

    private Dictionary<string, Series> Load(StationId station)
    {
        if (_stations.TryGetValue(station, out Dictionary<string, Series>? known))
        {
            return known;
        }

        known = _load.List(
            row => new Series(
                row.Integer(0),
                station,
                row.Text(1),
                new SeriesNature(Enum.Parse<SeriesKind>(row.Text(2)), row.IsNull(3) ? null : row.Real(3))),
            station.Value).ToDictionary(series => series.Name, StringComparer.Ordinal);
        _stations.Add(station, known);
        return known;
    }
}
