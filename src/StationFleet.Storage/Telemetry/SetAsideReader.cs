using System.Text.Json;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>Reads the records that could not be counted and wait for a person.</summary>
public sealed class SetAsideReader(FleetDatabase database)
{
    /// <summary>How many of each kind each of some stations has, most first.</summary>
    public Task<IReadOnlyList<SetAsideGroup>> GroupsAsync(IReadOnlyCollection<StationId> stations, CancellationToken cancel) => ListAsync(
        """
        SELECT s.station_id, s.kind, count(*), min(s.received), max(s.last_received), coalesce(max(dropped.count), 0)
        FROM set_aside s LEFT JOIN set_aside_dropped dropped ON dropped.station_id = s.station_id AND dropped.kind = s.kind
        WHERE s.station_id IN (SELECT value FROM json_each(?1))
        GROUP BY s.station_id, s.kind ORDER BY count(*) DESC, s.station_id, s.kind
        """,
        row => new SetAsideGroup(
            new StationId(row.Small(0)), KindOf(row.Text(1)), row.Small(2), row.Instant(3), row.Instant(4), row.Integer(5)),
        cancel,
        Numbers(stations));

    /// <summary>How many records each of some stations has that came in during [from, to).</summary>
    public async Task<IReadOnlyDictionary<StationId, int>> CountsAsync(
        IReadOnlyCollection<StationId> stations, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel) => (await ListAsync(
        """
        SELECT station_id, count(*) FROM set_aside
        WHERE station_id IN (SELECT value FROM json_each(?1)) AND received >= ?2 AND received < ?3 GROUP BY station_id
        """,
        row => (Station: new StationId(row.Small(0)), Count: row.Small(1)),
        cancel,
        Numbers(stations),
        from,
        to)).ToDictionary(row => row.Station, row => row.Count);

    /// <summary>Chosen records, newest first.</summary>
    public Task<IReadOnlyList<SetAsideRow>> ListAsync(SetAsideChoice choice, int limit, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(choice);
        return ListAsync(
            $"""
            SELECT id, station_id, report_id, received, last_received, times, record_index, kind, reason, raw FROM set_aside
            WHERE {SetAsideChoice.Condition} ORDER BY id DESC LIMIT ?4
            """,
            row => new SetAsideRow(
                row.Integer(0),
                new StationId(row.Small(1)),
                row.Integer(2),
                row.Instant(3),
                row.Instant(4),
                row.Small(5),
                row.Small(6),
                KindOf(row.Text(7)),
                row.Text(8),
                row.Text(9)),
            cancel,
            Numbers(choice.Stations),
            choice.Kind?.ToString() is { } kind ? kind : default(Value),
            choice.Id,
            limit);
    }

    private static SetAsideKind KindOf(string text) => Enum.TryParse(text, out SetAsideKind kind) ? kind : SetAsideKind.Other;

    private static string Numbers(IEnumerable<StationId> stations) => JsonSerializer.Serialize(stations.Select(station => station.Value));

    // SQLite answers on the calling thread: a page's thread must not wait for the disk.
    private Task<IReadOnlyList<T>> ListAsync<T>(string sql, Func<Row, T> read, CancellationToken cancel, params Value[] values) => Task.Run<IReadOnlyList<T>>(
        () =>
        {
            using SqliteConnection connection = database.OpenReader();
            using Statement statement = new(connection, sql);
            return statement.List(read, values);
        },
        cancel);
}
