using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using Xunit;

namespace StationFleet.Testing;

/// <summary>A database in a folder of its own, made by the real migrations and deleted afterwards.</summary>
public sealed class FleetDatabaseFile : IAsyncLifetime, IDbContextFactory<FleetDbContext>
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");
    private MeasurementWriter? _writer;

    public FleetDatabaseFile() => Database = new FleetDatabase(Path.Combine(_folder.FullName, "fleet.db"));

    public FleetDatabase Database { get; }

    /// <summary>A database whose writer finds the disk full: the file may not grow. SQLite takes the present size when it is told less.</summary>
    public static FleetDatabase OnAFullDisk(string path) => new(path) { WriterPragmas = "PRAGMA max_page_count = 1;" };

    /// <summary>The writer, started when it is first asked for.</summary>
    public MeasurementWriter Writer => _writer ??= new MeasurementWriter(Database);

    public MeasurementReader Reader => new(Database);

    public SetAsideReader SetAside => new(Database);

    public Task InitializeAsync() => Database.OpenAsync(CancellationToken.None);

    public FleetDbContext CreateDbContext() => Database.CreateDbContext();

    /// <summary>Runs one statement on a fresh connection and returns its first value.</summary>
    public object? Scalar(string sql)
    {
        using SqliteConnection connection = new(Database.ConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is a test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        return command.ExecuteScalar();
    }

    public async Task DisposeAsync()
    {
        if (_writer is not null)
        {
            await _writer.DisposeAsync();
        }

        // A pooled connection would keep the file open.
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }
}
