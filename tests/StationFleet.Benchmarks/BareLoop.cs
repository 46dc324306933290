using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;

namespace StationFleet.Benchmarks;

/// <summary>
/// What the intake is measured against: the least that a program can do which stores the same records durably. Prepared statements of
/// Microsoft.Data.Sqlite insert them into the same tables, WAL and synchronous=FULL, with no look-up of foreign keys, no parsing, no checks and no roll-ups.
/// </summary>
internal static class BareLoop
{
    /// <returns>Seconds for the timed reports.</returns>
    public static async Task<double> RunAsync(Workload load, int reportsPerTransaction)
    {
        using BenchFleet fleet = await BenchFleet.MakeAsync(load.Stations);
        await using SqliteConnection connection = new(fleet.Database.ConnectionString);
        await connection.OpenAsync();
        await using SqliteCommand pragma = connection.CreateCommand();
        pragma.CommandText = "PRAGMA synchronous = FULL; PRAGMA foreign_keys = OFF";
        await pragma.ExecuteNonQueryAsync();
        long[][] series = MakeSeries(connection, load, fleet);

        Measurement[][] reports = [.. Enumerable.Range(0, Math.Max(load.WarmUp, load.Timed)).Select(load.Report)];
        Insert(connection, load, fleet.Stations, series, load.Senders, reports.AsSpan(0, load.WarmUp), reportsPerTransaction);
        long started = TimeProvider.System.GetTimestamp();
        Insert(connection, load, fleet.Stations, series, 0, reports.AsSpan(0, load.Timed), reportsPerTransaction);
        return TimeProvider.System.GetElapsedTime(started).TotalSeconds;
    }

    private static long[][] MakeSeries(SqliteConnection connection, Workload load, BenchFleet fleet)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "INSERT INTO series (station_id, name, kind) VALUES ($station, $name, 'Gauge') RETURNING id";
        SqliteParameter station = command.Parameters.Add("$station", SqliteType.Integer);
        SqliteParameter name = command.Parameters.Add("$name", SqliteType.Text);
        return [.. fleet.Stations.Select(row =>
        {
            station.Value = row.Id.Value;
            return load.Names.Select(text =>
            {
                name.Value = text;
                return (long)command.ExecuteScalar()!;
            }).ToArray();
        })];
    }

    private static void Insert(
        SqliteConnection connection,
        Workload load,
        List<Station> stations,
        long[][] series,
        int firstStation,
        ReadOnlySpan<Measurement[]> reports,
        int perTransaction)
    {
        using SqliteCommand addReport = connection.CreateCommand();
        addReport.CommandText =
            "INSERT INTO reports (station_id, received, source, accepted, repeated, set_aside) VALUES ($station, $received, 'Station', $accepted, 0, 0) RETURNING id";
        SqliteParameter station = addReport.Parameters.Add("$station", SqliteType.Integer);
        SqliteParameter received = addReport.Parameters.Add("$received", SqliteType.Integer);
        addReport.Parameters.AddWithValue("$accepted", load.RecordsPerReport);
        using SqliteCommand add = connection.CreateCommand();
        add.CommandText = "INSERT INTO measurements (series_id, at, value, report_id) VALUES ($series, $at, $value, $report)";
        SqliteParameter id = add.Parameters.Add("$series", SqliteType.Integer);
        SqliteParameter at = add.Parameters.Add("$at", SqliteType.Integer);
        SqliteParameter value = add.Parameters.Add("$value", SqliteType.Real);
        SqliteParameter report = add.Parameters.Add("$report", SqliteType.Integer);
        addReport.Prepare();
        add.Prepare();

        SqliteTransaction? transaction = null;
        int inTransaction = 0;
        foreach (Measurement[] rows in reports)
        {
            for (int sender = firstStation; sender < firstStation + load.Senders; sender++)
            {
                transaction ??= connection.BeginTransaction();
                addReport.Transaction = transaction;
                add.Transaction = transaction;
                station.Value = stations[sender].Id.Value;
                received.Value = rows[^1].At.ToUnixTimeMilliseconds();
                report.Value = (long)addReport.ExecuteScalar()!;
                for (int row = 0; row < rows.Length; row++)
                {
                    id.Value = series[sender][row % load.Names.Length];
                    at.Value = rows[row].At.ToUnixTimeMilliseconds();
                    value.Value = rows[row].Value;
                    add.ExecuteNonQuery();
                }

                if (++inTransaction == perTransaction)
                {
                    transaction.Commit();
                    transaction.Dispose();
                    (transaction, inTransaction) = (null, 0);
                }
            }
        }

        transaction?.Commit();
        transaction?.Dispose();
    }
}
