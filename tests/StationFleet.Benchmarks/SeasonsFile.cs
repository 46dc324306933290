using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Testing;

namespace StationFleet.Benchmarks;

/// <summary>
/// A fleet's file after some seasons (1 May to 15 October, the last in 2026): daily roll-ups of every station; hourly ones of the first
/// some, and raw rows, each five minutes, of the first some. Written by SQL, since only reading it is measured.
/// </summary>
internal static class SeasonsFile
{
    private const int Days = 168;

    private static readonly string[] Tools = ["vacuum", "grabber"];

    private static readonly string[] Names =
        [MeasurementName.Uses("vacuum"), MeasurementName.Uses("grabber"), MeasurementName.TankFill, MeasurementName.BatteryCharge];

    /// <summary>The last morning of the last season.</summary>
    public static DateTimeOffset Now { get; } = new(2026, 10, 15, 13, 0, 0, TimeSpan.Zero);

    /// <param name="seasons">How many seasons.</param>
    /// <param name="stations">How many stations.</param>
    /// <param name="withHours">How many of them have hourly roll-ups.</param>
    /// <param name="withRawRows">How many of them have raw rows.</param>
    public static async Task<BenchFleet> MakeAsync(int seasons, int stations = 1000, int withHours = 20, int withRawRows = 20)
    {
        BenchFleet fleet = await BenchFleet.MakeAsync(stations);
        await using (FleetDbContext db = fleet.Database.CreateDbContext())
        {
            db.AddRange(fleet.Stations.SelectMany(station => Tools.Select(slug => new Tool
            {
                StationId = station.Id, Slug = slug, Name = slug, Installed = FleetBuilders.Created,
            })));
            await db.SaveChangesAsync();
        }

        await using SqliteConnection connection = new(fleet.Database.ConnectionString);
        await connection.OpenAsync();
        Run(connection, "PRAGMA synchronous = OFF; PRAGMA cache_size = -200000; PRAGMA foreign_keys = OFF; BEGIN");
        Run(connection, $"""
            CREATE TEMP TABLE days AS WITH RECURSIVE d(n) AS (SELECT 0 UNION ALL SELECT n + 1 FROM d WHERE n < {Days - 1}),
                y(y) AS (SELECT 2026 UNION ALL SELECT y - 1 FROM y WHERE y > {2027 - seasons})
                SELECT date(y || '-05-01', n || ' days') AS day, 1000 * unixepoch(y || '-05-01T06:00:00', n || ' days') AS start, n FROM y, d ORDER BY 1;
            CREATE TEMP TABLE steps AS WITH RECURSIVE s(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM s WHERE n < 288) SELECT n FROM s;
            INSERT INTO series (station_id, name, kind)
                SELECT stations.id, value, iif(value LIKE '%uses', 'Counter', 'Gauge') FROM stations, json_each('{System.Text.Json.JsonSerializer.Serialize(Names)}');
            INSERT INTO reports (id, station_id, received, source, accepted, repeated, set_aside) SELECT -id, id, 0, 'Station', 0, 0, 0 FROM stations;
            INSERT INTO last_heard SELECT id, {Now.ToUnixTimeMilliseconds()} FROM stations;
            INSERT INTO rollup_days (station_id, series_id, day, placement_id, count, min, max, sum, first, first_at, last, last_at, known, across_days, uncertain, hours)
                SELECT s.station_id, s.id, days.day, s.station_id, 288, 0.1, 0.9, 144, 0.1, start + 300000, 0.9, start + 86400000, 20, 1, 0, 24
                FROM stations st JOIN days JOIN series s ON s.station_id = st.id;
            INSERT INTO rollup_hours (station_id, series_id, hour_start, placement_id, day, count, min, max, sum, first, first_at, last, last_at, known, across_hours, across_days, uncertain)
                SELECT s.station_id, s.id, start + 3600000 * (hour.n - 1), s.station_id, days.day, 12, 0.1, 0.9, 6, 0.1, start, 0.9, start, 1, 0, 0, 0
                FROM stations st JOIN days JOIN steps hour ON hour.n <= 24 JOIN series s ON s.station_id = st.id WHERE st.id <= {withHours};
            INSERT INTO measurements (series_id, at, value, report_id)
                SELECT s.id, start + 300000 * steps.n, steps.n % 100 / 100.0, -s.station_id
                FROM series s JOIN days JOIN steps WHERE s.station_id <= {withRawRows};
            COMMIT
            """);
        Run(connection, "PRAGMA wal_checkpoint(TRUNCATE)");
        return fleet;
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandTimeout = 0;
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
