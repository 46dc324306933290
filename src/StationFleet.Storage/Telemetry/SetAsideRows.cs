using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// Keeps the records that could not be counted, each once. Of each kind a station keeps the newest ones only, so that a controller
/// whose clock is fast for a year can neither fill the disk nor push out those of another kind; what is dropped is counted.
/// </summary>
internal sealed class SetAsideRows(SqliteConnection connection) : IDisposable
{
    private readonly Statement _add = new(
        connection,
        """
        INSERT INTO set_aside (station_id, digest, report_id, received, last_received, times, record_index, kind, reason, raw)
        VALUES (?1, ?2, ?3, ?4, ?4, 1, ?5, ?6, ?7, ?8)
        ON CONFLICT (station_id, digest) DO UPDATE SET last_received = excluded.received, times = times + 1, kind = excluded.kind, reason = excluded.reason
        """);

    private readonly Statement _trim = new(
        connection,
        """
        DELETE FROM set_aside WHERE station_id = ?1 AND kind = ?2
        AND id <= (SELECT id FROM set_aside WHERE station_id = ?1 AND kind = ?2 ORDER BY id DESC LIMIT 1 OFFSET ?3)
        """);

    private readonly Statement _countDropped = new(
        connection,
        """
        INSERT INTO set_aside_dropped (station_id, kind, count) VALUES (?1, ?2, ?3)
        ON CONFLICT (station_id, kind) DO UPDATE SET count = count + excluded.count
        """);

    private readonly Statement _remove = new(connection, "DELETE FROM set_aside WHERE id = ?1");

    private readonly Statement _judge = new(connection, "UPDATE set_aside SET kind = ?2, reason = ?3 WHERE id = ?1");

    private readonly Statement _discard = new(connection, $"DELETE FROM set_aside WHERE {SetAsideChoice.Condition}");

    private readonly Statement _forgetDropped = new(
        connection,
        """
        DELETE FROM set_aside_dropped WHERE station_id IN (SELECT value FROM json_each(?1)) AND (?2 IS NULL OR kind = ?2)
        AND NOT EXISTS (SELECT 1 FROM set_aside s WHERE s.station_id = set_aside_dropped.station_id AND s.kind = set_aside_dropped.kind)
        """);

    /// <summary>Keeps the records of a report that came just now.</summary>
    internal void Keep(StationId station, long reportId, long received, IReadOnlyList<SetAsideRecord> records)
    {
        foreach (SetAsideRecord record in records)
        {
            byte[] digest = SHA256.HashData(Encoding.UTF8.GetBytes(record.Raw));
            _add.Run(station.Value, digest, reportId, received, record.Index, record.Kind.ToString(), record.Reason, record.Raw);
        }

        Trim(station, records);
    }

    /// <summary>Ends the wait of records that were tried again: those that count go, the others get their present reason.</summary>
    /// <param name="station">The station.</param>
    /// <param name="rows">The row of each record, by its place.</param>
    /// <param name="stillAside">Those that still do not count.</param>
    internal void Settle(StationId station, IReadOnlyList<long> rows, IReadOnlyList<SetAsideRecord> stillAside)
    {
        foreach (SetAsideRecord record in stillAside)
        {
            _judge.Run(rows[record.Index], record.Kind.ToString(), record.Reason);
        }

        foreach (long row in rows.Where((_, index) => stillAside.All(record => record.Index != index)))
        {
            _remove.Run(row);
        }

        Trim(station, stillAside);
    }

    /// <summary>Throws records away for good, because a person said so.</summary>
    /// <returns>How many there were.</returns>
    internal int Discard(SetAsideChoice choice)
    {
        Value stations = JsonSerializer.Serialize(choice.Stations.Select(station => station.Value));
        Value kind = choice.Kind?.ToString() is { } name ? name : default(Value);
        int discarded = _discard.Run(stations, kind, choice.Id);
        _forgetDropped.Run(stations, kind);
        return discarded;
    }

    public void Dispose()
    {
        foreach (Statement statement in (Statement[])[_add, _trim, _countDropped, _remove, _judge, _discard, _forgetDropped])
        {
            statement.Dispose();
        }
    }

    private void Trim(StationId station, IReadOnlyList<SetAsideRecord> records)
    {
        foreach (string kind in records.Select(record => record.Kind).Distinct().Select(kind => kind.ToString()))
        {
            int dropped = _trim.Run(station.Value, kind, SetAsideChoice.MostOfAKind);
            if (dropped > 0)
            {
                _countDropped.Run(station.Value, kind, dropped);
            }
        }
    }
}
