using System.Globalization;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Platform;

/// <summary>What a station's measurements span.</summary>
/// <param name="Station">The station.</param>
/// <param name="Code">Its code.</param>
/// <param name="RawFrom">Its first raw reading; null when there is none.</param>
/// <param name="RawTo">Its last raw reading.</param>
/// <param name="RawRows">How many raw readings are kept.</param>
/// <param name="RolledFrom">The first hour with a roll-up.</param>
/// <param name="Hours">How many hours' roll-ups there are, of all series.</param>
/// <param name="SealedUpTo">Up to where its time is sealed; null while nothing is.</param>
public sealed record MeasurementSpan(
    StationId Station,
    string Code,
    DateTimeOffset? RawFrom,
    DateTimeOffset? RawTo,
    long RawRows,
    DateTimeOffset? RolledFrom,
    long Hours,
    DateTimeOffset? SealedUpTo);

/// <summary>Looks whether a database file is sound; writes nothing, and may run beside the server.</summary>
public sealed class DatabaseCheck(FleetDatabase database)
{
    private const int MostFaults = 100;

    /// <summary>What SQLite finds wrong with the file's structure; empty when it is sound.</summary>
    public IReadOnlyList<string> Integrity()
    {
        using SqliteConnection connection = database.OpenReader();
        using Statement check = new(connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA integrity_check({MostFaults})"));
        List<string> said = check.List(row => row.Text(0));
        return said is ["ok"] ? [] : said;
    }

    /// <summary>Rows that refer to a row which is not there; empty when there is none.</summary>
    public IReadOnlyList<string> ForeignKeys()
    {
        using SqliteConnection connection = database.OpenReader();
        using Statement check = new(connection, "PRAGMA foreign_key_check");
        return check.List(row => $"A row of {row.Text(0)} refers to a row of {row.Text(2)} that is not there.");
    }

    /// <summary>What each station's measurements span, by code.</summary>
    public IReadOnlyList<MeasurementSpan> Spans()
    {
        using SqliteConnection connection = database.OpenReader();
        using Statement spans = new(
            connection,
            """
            SELECT t.id, t.code, r.first, r.last, coalesce(r.count, 0), h.first, coalesce(h.count, 0), c.up_to FROM stations t
            LEFT JOIN (SELECT s.station_id, min(m.at) AS first, max(m.at) AS last, count(*) AS count
                FROM series s CROSS JOIN measurements m ON m.series_id = s.id GROUP BY s.station_id) r ON r.station_id = t.id
            LEFT JOIN (SELECT station_id, min(hour_start) AS first, count(*) AS count
                FROM rollup_hours GROUP BY station_id) h ON h.station_id = t.id
            LEFT JOIN sealed c ON c.station_id = t.id ORDER BY t.code
            """);
        return spans.List(row => new MeasurementSpan(
            new StationId(row.Small(0)), row.Text(1), Maybe(row, 2), Maybe(row, 3), row.Integer(4), Maybe(row, 5), row.Integer(6), Maybe(row, 7)));
    }

    private static DateTimeOffset? Maybe(Row row, int column) => row.IsNull(column) ? null : row.Instant(column);
}
