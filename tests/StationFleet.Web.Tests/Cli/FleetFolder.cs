using Microsoft.Data.Sqlite;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Cli;

/// <summary>A data folder with a database and a station, and no server.</summary>
internal sealed class FleetFolder : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    private FleetFolder() => Database = new FleetDatabase(System.IO.Path.Combine(Path, "fleet.db"));

    public string Path => _folder.FullName;

    public FleetDatabase Database { get; }

    public Station Station { get; private set; } = null!;

    public static async Task<FleetFolder> MakeAsync()
    {
        FleetFolder folder = new();
        await folder.Database.OpenAsync(CancellationToken.None);
        folder.Station = await folder.Database.AddStationAsync("COP-1");
        await folder.Database.AddPlacementAsync(folder.Station, await folder.Database.AddAccessAsync());
        return folder;
    }

    public ValueTask DisposeAsync()
    {
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
        return ValueTask.CompletedTask;
    }
}
