using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>Remembers on disk up to which report the roll-ups are written, and finds what came after it.</summary>
internal sealed class RollUpMark(SqliteConnection connection, SeriesCatalog catalog) : IDisposable
{
    private readonly Statement _set = new(connection, "UPDATE rolled_up SET report_id = max(report_id, ?1)");

    private readonly Statement _later = new(
        connection,
        """
        SELECT station_id, id, oldest_at, newest_at FROM reports
        WHERE id > (SELECT report_id FROM rolled_up) AND oldest_at IS NOT NULL ORDER BY id
        """);

    private readonly Statement _rows = new(
        connection, "SELECT at, value FROM measurements WHERE series_id = ?1 AND at BETWEEN ?2 AND ?3 AND report_id = ?4");

    /// <summary>Notes that the roll-ups hold every report up to this one.</summary>
    internal void MoveTo(long report) => _set.Run(report);

    /// <summary>What the reports after the mark brought, and the last of them; null when there is none.</summary>
    internal (NewReadings Readings, long LastReport)? Later()
    {
        var reports = _later.List(row => (Station: new StationId(row.Small(0)), Id: row.Integer(1), Oldest: row.Integer(2), Newest: row.Integer(3)));
        NewReadings readings = new();
        foreach ((StationId station, long id, long oldest, long newest) in reports)
        {
            foreach (Series series in catalog.Of(station).Values)
            {
                foreach (Reading reading in _rows.List(row => new Reading(row.Instant(0), row.Real(1)), series.Id, oldest, newest, id))
                {
                    readings.Add(series, reading);
                }
            }
        }

        return reports.Count == 0 ? null : (readings, reports[^1].Id);
    }

    public void Dispose()
    {
        _set.Dispose();
        _later.Dispose();
        _rows.Dispose();
    }
}
