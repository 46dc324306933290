using System.Text.Json;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// Reads the measurement store on read-only connections of its own, so that it never waits for the writer. Each method sees
/// one moment of the database. CROSS JOIN fixes the order: raw rows are sought series by series, roll-ups station by station.
/// </summary>
public sealed class MeasurementReader(FleetDatabase database)
{
    internal const string LatestSql =
        """
        SELECT s.name, m.at, m.value
        FROM series s CROSS JOIN measurements m
        ON m.series_id = s.id AND m.at = (SELECT max(at) FROM measurements WHERE series_id = s.id)
        WHERE s.station_id = ?1 ORDER BY s.name
        """;

    internal const string RangeSql =
        """
        SELECT s.name, m.at, m.value FROM series s CROSS JOIN measurements m ON m.series_id = s.id
        WHERE s.station_id = ?1 AND s.name IN (SELECT value FROM json_each(?2)) AND m.at > ?3 AND m.at <= ?4
        ORDER BY m.at, s.name
        """;

    internal const string ReportSql =
        """
        SELECT s.name, m.at, m.value FROM series s CROSS JOIN measurements m ON m.series_id = s.id
        WHERE s.station_id = ?1 AND m.at BETWEEN ?2 AND ?3 AND m.report_id = ?4 ORDER BY m.at, s.name
        """;

    /// <summary>When each station was last heard: its newest report's arrival, even if every record was set aside.</summary>
    public async Task<IReadOnlyDictionary<StationId, DateTimeOffset>> LastHeardAsync(CancellationToken cancel)
    {
        List<(StationId Station, DateTimeOffset At)> rows = await ListAsync(
            "SELECT station_id, at FROM last_heard",
            row => (new StationId(row.Small(0)), row.Instant(1)),
            cancel);
        return rows.ToDictionary(row => row.Station, row => row.At);
    }

    /// <summary>The newest value of each series of a station, by name.</summary>
    public async Task<IReadOnlyList<LatestValue>> LatestAsync(StationId station, CancellationToken cancel) => await ListAsync(
        LatestSql,
        row => new LatestValue(row.Text(0), row.Instant(1), row.Real(2)),
        cancel,
        station.Value);

    /// <summary>The names that a station has ever measured, in order.</summary>
    public async Task<IReadOnlyList<string>> NamesAsync(StationId station, CancellationToken cancel) => await ListAsync(
        "SELECT name FROM series WHERE station_id = ?1 ORDER BY name", row => row.Text(0), cancel, station.Value);

    /// <summary>From when a station's raw measurements are whole: the end of its sealed time, else its oldest one; null when it has none.</summary>
    public async Task<DateTimeOffset?> RawFromAsync(StationId station, CancellationToken cancel) =>
        await SealedUpToAsync(station, cancel) ?? (await ListAsync(
            "SELECT min((SELECT min(at) FROM measurements WHERE series_id = s.id)) FROM series s WHERE s.station_id = ?1",
            row => row.MaybeInteger(0) is { } at ? Milliseconds.Instant(at) : (DateTimeOffset?)null,
            cancel,
            station.Value))[0];

    /// <summary>Raw measurements in (from, to], ascending in time.</summary>
    public async Task<IReadOnlyList<Measurement>> RangeAsync(
        StationId station, IReadOnlyCollection<string> names, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel) =>
        await ListAsync(
            RangeSql,
            Measured,
            cancel,
            station.Value,
            JsonSerializer.Serialize(names),
            from,
            to);

    /// <summary>Hours that start in [from, to), ascending by start, then name, then placement.</summary>
    public async Task<IReadOnlyList<SeriesHour>> HoursAsync(
        StationId station, IReadOnlyCollection<string> names, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel) =>
        await ListAsync(
            $"""
            SELECT {RollUpRows.HourColumns}, s.name FROM rollup_hours h CROSS JOIN series s ON s.id = h.series_id
            WHERE h.station_id = ?1 AND h.hour_start >= ?3 AND h.hour_start < ?4
            AND h.series_id IN (SELECT id FROM series WHERE station_id = ?1 AND name IN (SELECT value FROM json_each(?2)))
            ORDER BY h.hour_start, s.name, h.placement_id
            """,
            row => new SeriesHour(station, row.Text(15), RollUpRows.ReadHour(row)),
            cancel,
            station.Value,
            JsonSerializer.Serialize(names),
            from,
            to);

    /// <summary>Local days from one to another, both included, ascending by station, then day, then name, then placement.</summary>
    public async Task<IReadOnlyList<SeriesDay>> DaysAsync(
        IReadOnlyCollection<StationId> stations, IReadOnlyCollection<string> names, DateOnly from, DateOnly to, CancellationToken cancel) =>
        await ListAsync(
            $"""
            SELECT {RollUpRows.DayColumns}, s.name, d.station_id FROM rollup_days d CROSS JOIN series s ON s.id = d.series_id
            WHERE d.station_id IN (SELECT value FROM json_each(?1)) AND d.day >= ?3 AND d.day <= ?4
            AND d.series_id IN (
                SELECT id FROM series WHERE station_id IN (SELECT value FROM json_each(?1)) AND name IN (SELECT value FROM json_each(?2)))
            ORDER BY d.station_id, d.day, s.name, d.placement_id
            """,
            row => new SeriesDay(new StationId(row.Small(15)), row.Text(14), RollUpRows.ReadDay(row)),
            cancel,
            JsonSerializer.Serialize(stations.Select(station => station.Value)),
            JsonSerializer.Serialize(names),
            RollUpRows.Text(from),
            RollUpRows.Text(to));

    /// <summary>
    /// Of each station and local day, the clock hours in which a counter of uses rose; hours that start in [from, to). Placements
    /// that are named are the only ones to count.
    /// </summary>
    public async Task<IReadOnlyList<(StationId Station, DateOnly Day, int Hours)>> UseHoursAsync(
        IReadOnlyCollection<StationId> stations, DateTimeOffset from, DateTimeOffset to, IReadOnlyCollection<PlacementId>? placements, CancellationToken cancel) =>
        await ListAsync(
            """
            SELECT h.station_id, h.day, count(DISTINCT h.hour_start) FROM rollup_hours h
            WHERE h.station_id IN (SELECT value FROM json_each(?1)) AND h.hour_start >= ?2 AND h.hour_start < ?3
            AND h.series_id IN (SELECT id FROM series WHERE station_id IN (SELECT value FROM json_each(?1)) AND name LIKE 'tools/%/uses')
            AND h.known + h.across_hours + h.across_days > 0
            AND (?4 IS NULL OR h.placement_id IN (SELECT value FROM json_each(?4)))
            GROUP BY h.station_id, h.day
            """,
            row => (new StationId(row.Small(0)), DateOnly.ParseExact(row.Text(1), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), row.Small(2)),
            cancel,
            JsonSerializer.Serialize(stations.Select(station => station.Value)),
            from,
            to,
            placements is null ? default(Value) : JsonSerializer.Serialize(placements.Select(placement => placement.Value)));

    /// <summary>The reports after one, by id ascending, with what each brought that was new: the order of knowing.</summary>
    public Task<IReadOnlyList<ReceivedReport>> NewReportsAsync(
        StationId station, long afterReportId, int limit, CancellationToken cancel) => Task.Run<IReadOnlyList<ReceivedReport>>(
        () =>
        {
            using SqliteConnection connection = database.OpenReader();
            using SqliteTransaction moment = connection.BeginTransaction(deferred: true);
            List<(long Id, long Received, ReportSource Source, long? OldestAt, long? NewestAt, long? ClockOff, long? UpdateWithin)> reports = List(
                connection,
                """
                SELECT id, received, source, oldest_at, newest_at, clock_off, update_within FROM reports
                WHERE station_id = ?1 AND id > ?2 ORDER BY id LIMIT ?3
                """,
                row => (row.Integer(0), row.Integer(1), Source(row, 2), row.MaybeInteger(3), row.MaybeInteger(4), row.MaybeInteger(5), row.MaybeInteger(6)),
                cancel,
                station.Value,
                afterReportId,
                limit);

            // A report's rows are found by its time span, which is narrow as a rule: an index by report would double each write.
            using Statement brought = new(connection, ReportSql);
            HashSet<string> names = new(StringComparer.Ordinal);
            return
            [
                .. reports.Select(report => new ReceivedReport(
                    report.Id,
                    Milliseconds.Instant(report.Received),
                    report.Source,
                    report.OldestAt is null ? [] : List(
                        brought, row => Measured(row, names), cancel, station.Value, report.OldestAt, report.NewestAt, report.Id))
                {
                    ClockOff = report.ClockOff is { } off ? TimeSpan.FromMilliseconds(off) : null,
                    UpdateWithin = report.UpdateWithin is { } within ? TimeSpan.FromMilliseconds(within) : null,
                }),
            ];
        },
        cancel);

    /// <summary>The last report that was received before an instant, to go on from with <see cref="NewReportsAsync"/>.</summary>
    public async Task<long> LastReportBeforeAsync(StationId station, DateTimeOffset instant, CancellationToken cancel)
    {
        List<long> first = await ListAsync(
            "SELECT id FROM reports WHERE station_id = ?1 AND received >= ?2 ORDER BY id LIMIT 1", row => row.Integer(0), cancel, station.Value, instant);
        return first.Count > 0 ? first[0] - 1 : long.MaxValue;
    }

    /// <summary>When the station's reports of [from, to) arrived, and how long before that their newest reading was made by its own clock.</summary>
    /// <returns>In order of arrival; reports of which nothing says a time are left out.</returns>
    public async Task<IReadOnlyList<(DateTimeOffset Received, TimeSpan Behind)>> ArrivalsAsync(
        StationId station, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel) => await ListAsync(
        """
        SELECT received, coalesce(-clock_off, received - newest_at) FROM reports
        WHERE station_id = ?1 AND id > ?2 AND received < ?3 AND source = 'Station' AND coalesce(clock_off, newest_at) IS NOT NULL
        ORDER BY id LIMIT 5000
        """,
        row => (row.Instant(0), TimeSpan.FromMilliseconds(row.Integer(1))),
        cancel,
        station.Value,
        await LastReportBeforeAsync(station, from, cancel),
        to);

    /// <summary>Every measurement at or after an instant that was known with a report, ascending in time: for a replay.</summary>
    public async Task<IReadOnlyList<Measurement>> KnownSinceAsync(
        StationId station, DateTimeOffset from, long upToReportId, CancellationToken cancel) => await ListAsync(
        """
        SELECT s.name, m.at, m.value FROM series s CROSS JOIN measurements m ON m.series_id = s.id
        WHERE s.station_id = ?1 AND m.at >= ?2 AND m.report_id <= ?3 ORDER BY m.at, s.name
        """,
        Measured,
        cancel,
        station.Value,
        from,
        upToReportId);

    /// <summary>A station's reports, newest first.</summary>
    public async Task<IReadOnlyList<ReportSummary>> RecentReportsAsync(StationId station, int limit, CancellationToken cancel) =>
        await ListAsync(
            """
            SELECT id, received, source, oldest_at, newest_at, accepted, repeated, set_aside FROM reports
            WHERE station_id = ?1 ORDER BY id DESC LIMIT ?2
            """,
            row => new ReportSummary(
                row.Integer(0),
                row.Instant(1),
                Source(row, 2),
                row.MaybeInteger(3) is { } oldest ? Milliseconds.Instant(oldest) : null,
                row.MaybeInteger(4) is { } newest ? Milliseconds.Instant(newest) : null,
                row.Small(5),
                row.Small(6),
                row.Small(7)),
            cancel,
            station.Value,
            limit);

    /// <summary>The stretches in which a station measured anything, one for each hour that starts in [from, to), ascending.</summary>
    public async Task<IReadOnlyList<(DateTimeOffset First, DateTimeOffset Last)>> DataHoursAsync(
        StationId station, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel) => await ListAsync(
        """
        SELECT min(first_at), max(last_at) FROM rollup_hours
        WHERE station_id = ?1 AND hour_start >= ?2 AND hour_start < ?3 GROUP BY hour_start ORDER BY hour_start
        """,
        row => (row.Instant(0), row.Instant(1)),
        cancel,
        station.Value,
        from,
        to);

    /// <summary>Up to where a station's time is sealed, so that its roll-ups cannot change any more; null while nothing is.</summary>
    public async Task<DateTimeOffset?> SealedUpToAsync(StationId station, CancellationToken cancel) =>
        await ListAsync("SELECT up_to FROM sealed WHERE station_id = ?1", row => row.Instant(0), cancel, station.Value) is [var upTo] ? upTo : null;

    private static ReportSource Source(Row row, int column) => Enum.Parse<ReportSource>(row.Text(column));

    private static Measurement Measured(Row row) =>
        new(row.Text(0), row.Instant(1), row.Real(2));

    // A season has few names and very many measurements: each name is kept once.
    private static Measurement Measured(Row row, HashSet<string> names)
    {
        Measurement measured = Measured(row);
        if (names.TryGetValue(measured.Name, out string? known))
        {
            return measured with { Name = known };
        }

        names.Add(measured.Name);
        return measured;
    }

    // SQLite answers on the calling thread: a page's thread must not wait for the disk.
    private Task<List<T>> ListAsync<T>(string sql, Func<Row, T> read, CancellationToken cancel, params Value[] values) =>
        Task.Run(
            () =>
            {
                using SqliteConnection connection = database.OpenReader();
                return List(connection, sql, read, cancel, values);
            },
            cancel);

    private static List<T> List<T>(
        SqliteConnection connection, string sql, Func<Row, T> read, CancellationToken cancel, params Value[] values)
    {
        using Statement statement = new(connection, sql);
        return List(statement, read, cancel, values);
    }

    private static List<T> List<T>(Statement statement, Func<Row, T> read, CancellationToken cancel, params Value[] values) => statement.List(
        row =>
        {
            cancel.ThrowIfCancellationRequested();
            return read(row);
        },
        values);
}
