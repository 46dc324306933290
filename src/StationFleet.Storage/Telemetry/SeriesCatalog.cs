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
        connection,
        """
        SELECT s.id, s.name, s.kind, (
            SELECT t.uses_wrap_at FROM tools t
            WHERE t.station_id = s.station_id AND s.name = 'tools/' || t.slug || '/uses' ORDER BY t.installed DESC LIMIT 1)
        FROM series s WHERE s.station_id = ?1
        """);

    private readonly Statement _add = new(
        connection, "INSERT INTO series (station_id, name, kind) VALUES (?1, ?2, ?3)");

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

        _add.Run(station.Value, name, MeasurementName.KindOf(name).ToString());
        Forget(station);
        return Load(station)[name];
    }

    /// <summary>Forgets a station, whose newest series may have been rolled back or changed.</summary>
    internal void Forget(StationId station) => _stations.Remove(station);

    /// <summary>Forgets all stations: a tool may have been edited.</summary>
    internal void ForgetAll() => _stations.Clear();

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
