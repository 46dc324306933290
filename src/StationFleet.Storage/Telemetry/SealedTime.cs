using System.Globalization;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// Up to where each station's time is sealed: its roll-ups are final there, and the raw rows are gone but for the last of each
/// series, from which the next gain counts. Only the writer seals, so it need not look twice.
/// </summary>
internal sealed class SealedTime(SqliteConnection connection, SeriesCatalog catalog, RawRows raw) : IDisposable
{
    private readonly Dictionary<StationId, long> _upTo = [];

    private readonly Statement _read = new(connection, "SELECT up_to FROM sealed WHERE station_id = ?1");

    private readonly Statement _put = new(
        connection, "INSERT INTO sealed (station_id, up_to) VALUES (?1, ?2) ON CONFLICT (station_id) DO UPDATE SET up_to = excluded.up_to");

    // A report that the watch has not taken in yet may still change what it knows of that time.
    private readonly Statement _isWatched = new(
        connection,
        """
        SELECT NOT EXISTS (
            SELECT 1 FROM reports r WHERE r.station_id = ?1 AND r.oldest_at <= ?2
            AND r.id > coalesce((SELECT last_report_id FROM watch_positions WHERE station_id = ?1), -1))
        """);

    private readonly Statement _purge = new(
        connection,
        """
        DELETE FROM measurements WHERE series_id = ?1 AND at < ?2
        AND at <= coalesce((SELECT at FROM measurements WHERE series_id = ?1 ORDER BY at LIMIT 1 OFFSET ?3), ?2)
        """);

    /// <summary>Why a reading of sealed time cannot count.</summary>
    internal static string TooLate(DateTimeOffset upTo) => string.Create(
        CultureInfo.InvariantCulture,
        $"This station's readings up to {upTo.UtcDateTime:yyyy-MM-ddTHH:mm:ssZ} are final: only their sums are kept. This one came too late, or was counted before.");

    /// <summary>The last sealed instant in milliseconds; the least number while nothing is sealed.</summary>
    internal long UpTo(StationId station)
    {
        if (!_upTo.TryGetValue(station, out long upTo))
        {
            upTo = _read.First<long?>(row => row.Integer(0), station.Value) ?? long.MinValue;
            _upTo.Add(station, upTo);
        }

        return upTo;
    }

    /// <summary>Seals a station's time; the caller holds the transaction.</summary>
    /// <returns>Whether it is sealed up to there: not before the watch has taken in every report that speaks of that time.</returns>
    internal bool Seal(StationId station, long upTo)
    {
        if (upTo <= UpTo(station))
        {
            return true;
        }

        if (_isWatched.First(row => row.Integer(0), station.Value, upTo) == 0)
        {
            return false;
        }

        _put.Run(station.Value, upTo);
        _upTo[station] = upTo;
        return true;
    }

    /// <summary>Removes some of the raw rows of sealed time, the oldest of each series first.</summary>
    /// <returns>How many are gone; 0 when no more are to be removed.</returns>
    internal int Purge(StationId station, int most)
    {
        int purged = 0;
        foreach (Series series in catalog.Of(station).Values)
        {
            if (purged < most && raw.LastTo(series, UpTo(station)) is { } kept)
            {
                purged += _purge.Run(series.Id, kept.At, most - purged - 1);
            }
        }

        return purged;
    }

    /// <summary>Forgets a station, whose seal may have been rolled back.</summary>
    internal void Forget(StationId station) => _upTo.Remove(station);

    public void Dispose()
    {
        _read.Dispose();
        _put.Dispose();
        _isWatched.Dispose();
        _purge.Dispose();
    }
}
