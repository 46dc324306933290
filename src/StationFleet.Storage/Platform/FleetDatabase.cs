using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Migrations;
using SQLitePCL;

namespace StationFleet.Storage.Platform;

/// <summary>The fleet's database file: where it is, how it is opened, and that it is fit for use.</summary>
/// <param name="path">The file; its folder is made when it is missing.</param>
public sealed class FleetDatabase(string path) : IDbContextFactory<FleetDbContext>
{
    // Engines before this one can damage a database in WAL mode when a checkpoint and a write meet.
    private static readonly Version OldestSqlite = new(3, 51, 3);

    // The newest pages of every series stay in memory (64 MiB), and are copied into the file once for many commits (64 MiB of log).
    // The writer makes or finds each row's parents itself: to look them up again would cost as much as the row.
    private const string LargeWrites =
        "PRAGMA cache_size = -65536; PRAGMA wal_autocheckpoint = 16384; PRAGMA temp_store = MEMORY; PRAGMA foreign_keys = OFF;";

    private DbContextOptions<FleetDbContext>? _options;

    /// <summary>The database file.</summary>
    public string Path { get; } = System.IO.Path.GetFullPath(path);

    /// <summary>For connections that read and write.</summary>
    public string ConnectionString => Settings(SqliteOpenMode.ReadWriteCreate, pooling: true);

    /// <summary>For connections that only read.</summary>
    public string ReadOnlyConnectionString => Settings(SqliteOpenMode.ReadOnly, pooling: true);

    /// <summary>Extra pragmas of the writer's connection; tests use it to make a small disk.</summary>
    internal string WriterPragmas { get; init; } = "";

    /// <summary>Gets the text of each statement that reads measurements or roll-ups; tests have it explained.</summary>
    public Action<string>? OnRead { get; set; }

    /// <summary>Makes the folder, checks the engine and brings the schema up to date; called once at start.</summary>
    /// <exception cref="FleetDatabaseException">The engine is too old.</exception>
    public async Task OpenAsync(CancellationToken cancel)
    {
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(Path)!);
        RequireEngine(EngineVersion());
        await using FleetDbContext database = CreateDbContext();
        await database.Database.MigrateAsync(cancel);
        await database.Database.ExecuteSqlRawAsync("PRAGMA journal_mode = WAL", cancel);
    }

    public FleetDbContext CreateDbContext() => new(_options ??= (DbContextOptions<FleetDbContext>)Configure(
        new DbContextOptionsBuilder<FleetDbContext>()).Options);

    internal DbContextOptionsBuilder Configure(DbContextOptionsBuilder options) => options
        .UseSqlite(ConnectionString)
        .AddInterceptors(ConnectionPragmas.Instance)
        .ReplaceService<IMigrationsSqlGenerator, StrictSqlGenerator>();

    internal SqliteConnection OpenWriter()
    {
        SqliteConnection connection = new(Settings(SqliteOpenMode.ReadWrite, pooling: false));
        connection.Open();
        ConnectionPragmas.Apply(connection, LargeWrites + WriterPragmas);
        return connection;
    }

    internal SqliteConnection OpenReader()
    {
        SqliteConnection connection = new(ReadOnlyConnectionString);
        connection.Open();
        _ = raw.sqlite3_busy_timeout(connection.Handle!, ConnectionPragmas.BusySeconds * 1000);
        if (OnRead is { } tell)
        {
            raw.sqlite3_trace(connection.Handle!, (_, sql) => tell(sql), null);
        }

        return connection;
    }

    internal static void RequireEngine(string version)
    {
        if (!Version.TryParse(version, out Version? found) || found < OldestSqlite)
        {
            throw new FleetDatabaseException(
                $"SQLite {version} is too old: StationFleet needs {OldestSqlite} or newer, since older engines can damage its database.");
        }
    }

    private static string EngineVersion()
    {
        using SqliteConnection memory = new("Data Source=:memory:");
        memory.Open();
        using SqliteCommand command = memory.CreateCommand();
        command.CommandText = "SELECT sqlite_version()";
        return (string)command.ExecuteScalar()!;
    }

    private string Settings(SqliteOpenMode mode, bool pooling) => new SqliteConnectionStringBuilder
    {
        DataSource = Path,
        Mode = mode,
        Pooling = pooling,
        ForeignKeys = true,

        // The provider retries a busy database until this many seconds have passed.
        DefaultTimeout = ConnectionPragmas.BusySeconds,
    }.ToString();
}

/// <summary>The database cannot be used; the message is a sentence for the person who runs the server.</summary>
public sealed class FleetDatabaseException(string message) : Exception(message);
