using Microsoft.Data.Sqlite;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Testing;
using StationFleet.Web.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>A data folder with stations that stand at one access, and a key for each; deleted afterwards.</summary>
internal sealed class BenchFleet : IDisposable
{
    private readonly DirectoryInfo _folder;

    private BenchFleet(DirectoryInfo folder)
    {
        _folder = folder;
        Database = new FleetDatabase(Path.Combine(folder.FullName, "fleet.db"));
    }

    public string Folder => _folder.FullName;

    public FleetDatabase Database { get; }

    public List<Station> Stations { get; } = [];

    public string[] Keys { get; private set; } = [];

    public static async Task<BenchFleet> MakeAsync(int stations)
    {
        BenchFleet fleet = new(Directory.CreateTempSubdirectory("fleet-bench-"));
        await fleet.Database.OpenAsync(CancellationToken.None);
        Agency agency = await fleet.Database.AddAgencyAsync();
        Access access = await fleet.Database.AddAccessAsync();
        await using FleetDbContext db = fleet.Database.CreateDbContext();
        fleet.Stations.AddRange(Enumerable.Range(0, stations).Select(number => new Station
        {
            Code = Workload.CodeOf(number), OwnerId = agency.Id, OperatorId = agency.Id, Created = FleetBuilders.Created,
        }));
        db.AddRange(fleet.Stations);
        await db.SaveChangesAsync();
        fleet.Keys = [.. fleet.Stations.Select(_ => StationKeyText.New())];
        db.AddRange(fleet.Stations.Select(station => new Placement { StationId = station.Id, AccessId = access.Id, From = FleetBuilders.Created }));
        db.AddRange(fleet.Stations.Zip(fleet.Keys, (station, key) => new StationKey
        {
            StationId = station.Id,
            Prefix = StationKeyText.PrefixOf(key)!,
            Hash = Convert.ToHexStringLower(StationKeyText.HashOf(key)),
            Created = FleetBuilders.Created,
        }));
        await db.SaveChangesAsync();
        return fleet;
    }

    /// <summary>The file's size with everything in it.</summary>
    public long BytesInFile()
    {
        using SqliteConnection connection = new(Database.ConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "PRAGMA wal_checkpoint(TRUNCATE)";
        command.ExecuteNonQuery();
        return new FileInfo(Database.Path).Length;
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }
}
