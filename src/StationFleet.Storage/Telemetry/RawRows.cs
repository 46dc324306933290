using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>What roll-ups are made of: raw readings, the reading before them, uptimes, and where the station stood.</summary>
internal sealed class RawRows(SqliteConnection connection) : IDisposable
{
    private readonly Statement _range = new(
        connection, "SELECT at, value FROM measurements WHERE series_id = ?1 AND at > ?2 AND at <= ?3 ORDER BY at");

    private readonly Statement _last = new(
        connection, "SELECT at, value FROM measurements WHERE series_id = ?1 AND at <= ?2 ORDER BY at DESC LIMIT 1");

    private readonly Statement _next = new(
        connection, "SELECT at, value FROM measurements WHERE series_id = ?1 AND at > ?2 ORDER BY at LIMIT 1");

    private readonly Statement _stays = new(
        connection,
        """
        SELECT p.id, p."from", p."to", a.time_zone FROM placements p JOIN accesses a ON a.id = p.access_id WHERE p.station_id = ?1
        """);

    private readonly Statement _zone = new(connection, "SELECT value FROM settings WHERE name = ?1");

    /// <summary>The readings in (after, to], ascending.</summary>
    internal List<Reading> Range(Series series, long after, long to) => _range.List(ReadReading, series.Id, after, to);

    /// <summary>The last reading at or before an instant.</summary>
    internal Reading? LastTo(Series series, long to) => One(_last, series.Id, to);

    /// <summary>The first reading after an instant.</summary>
    internal Reading? FirstAfter(Series series, long after) => One(_next, series.Id, after);

    /// <summary>The uptimes in (after, to] and the first one later.</summary>
    internal UptimeLog Uptime(Series? uptime, long after, long to)
    {
        if (uptime is null)
        {
            return UptimeLog.Empty;
        }

        List<Reading> readings = Range(uptime, after, to);
        if (FirstAfter(uptime, to) is { } later)
        {
            readings.Add(later);
        }

        return new UptimeLog(readings);
    }

    /// <summary>Where the station stood, as the placements say now.</summary>
    internal Whereabouts Whereabouts(StationId station) => new(
        _stays.List(
            row => new Stay(
                new PlacementId(row.Small(0)),
                row.Instant(1),
                row.IsNull(2) ? null : row.Instant(2),
                TimeZoneInfo.FindSystemTimeZoneById(row.Text(3))),
            station.Value),
        _zone.First(row => row.Text(0), SettingNames.FleetTimeZone) is { } zone ? TimeZoneInfo.FindSystemTimeZoneById(zone) : TimeZoneInfo.Utc);

    public void Dispose()
    {
        _range.Dispose();
        _last.Dispose();
        _next.Dispose();
        _stays.Dispose();
        _zone.Dispose();
    }

    private static Reading? One(Statement statement, long series, long instant) =>
        statement.First<Reading?>(row => ReadReading(row), series, instant);

    private static Reading ReadReading(Row row) => new(row.Instant(0), row.Real(1));
}
