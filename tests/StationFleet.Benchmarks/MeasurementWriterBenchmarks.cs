using BenchmarkDotNet.Attributes;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>
/// The store's writer, with deduplication and roll-ups, beside a bare prepared insert of the same rows in transactions of the same
/// size: quote the ratio, since machines differ.
/// </summary>
[MemoryDiagnoser]
[System.Diagnostics.CodeAnalysis.SuppressMessage("Design", "CA1001", Justification = "The runner calls the clean-up after each iteration.")]
public class MeasurementWriterBenchmarks
{
    private const int Reports = 100;
    private const int RowsPerReport = 200;
    private const int Series = 10;

    private static readonly DateTimeOffset Start = new(2026, 7, 1, 6, 0, 0, TimeSpan.Zero);

    private DirectoryInfo _folder = null!;
    private FleetDatabase _database = null!;
    private MeasurementWriter _writer = null!;
    private StationId _station;
    private int _round;

    [IterationSetup]
    public void Open()
    {
        _folder = Directory.CreateTempSubdirectory("fleet-bench-");
        _database = new FleetDatabase(Path.Combine(_folder.FullName, "fleet.db"));
        _database.OpenAsync(CancellationToken.None).GetAwaiter().GetResult();
        using FleetDbContext db = _database.CreateDbContext();
        Agency agency = new() { Name = "Juniper Basin Watershed District" };
        db.Add(agency);
        db.SaveChanges();
        Station station = new() { Code = "COP-1", OwnerId = agency.Id, OperatorId = agency.Id, Created = Start.AddDays(-1) };
        db.Add(station);
        db.SaveChanges();
        _station = station.Id;
        _writer = new MeasurementWriter(_database);
        _round++;
    }

    [IterationCleanup]
    public void Close()
    {
        _writer.DisposeAsync().AsTask().GetAwaiter().GetResult();
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }

    [Benchmark(OperationsPerInvoke = Reports * RowsPerReport)]
    public async Task Writer()
    {
        WriteOutcome[] outcomes = await Task.WhenAll(Enumerable.Range(0, Reports).Select(report => _writer.WriteAsync(
            new ReportToStore(_station, Start.AddHours(report), [.. Rows(report)], []), CancellationToken.None)));
        if (outcomes.Any(outcome => outcome is not WriteOutcome.Stored))
        {
            throw new InvalidOperationException("A report was not stored.");
        }
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = Reports * RowsPerReport)]
    public void BareInsert()
    {
        using SqliteConnection connection = new(_database.ConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText =
            "CREATE TABLE bare (series_id INTEGER, at INTEGER, value REAL, report_id INTEGER, PRIMARY KEY (series_id, at)) STRICT, WITHOUT ROWID";
        command.ExecuteNonQuery();
        command.CommandText = "INSERT INTO bare VALUES ($series, $at, $value, $report)";
        SqliteParameter[] parameters =
        [
            command.Parameters.Add("$series", SqliteType.Integer),
            command.Parameters.Add("$at", SqliteType.Integer),
            command.Parameters.Add("$value", SqliteType.Real),
            command.Parameters.Add("$report", SqliteType.Integer),
        ];
        using SqliteTransaction transaction = connection.BeginTransaction();
        command.Transaction = transaction;
        for (int report = 0; report < Reports; report++)
        {
            foreach (IndexedMeasurement row in Rows(report))
            {
                parameters[0].Value = row.Index % Series;
                parameters[1].Value = row.Measurement.At.ToUnixTimeMilliseconds();
                parameters[2].Value = row.Measurement.Value;
                parameters[3].Value = report;
                command.ExecuteNonQuery();
            }
        }

        transaction.Commit();
    }

    private IEnumerable<IndexedMeasurement> Rows(int report) => Enumerable.Range(0, RowsPerReport).Select(row => new IndexedMeasurement(
        row,
        new Measurement($"probe/{row % Series}", Start.AddMinutes((100 * report) + (5 * (row / Series))), row + (0.001 * _round)),
        ""));
}
