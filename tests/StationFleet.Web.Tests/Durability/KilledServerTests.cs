using System.Globalization;
using Microsoft.Data.Sqlite;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Durability;

/// <summary>
/// The real server, killed under load at moments chosen by a seed. What it answered with 200 must be there, once. This is the death
/// of the process; that the disk keeps what fsync promised is the disk's word. FLEET_KILLS sets how often (three), FLEET_SEED when.
/// </summary>
public sealed class KilledServerTests : IDisposable
{
    private const int Senders = 32;
    private const int RecordsPerPack = 12;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-killed-");

    [Fact]
    public async Task What_was_acknowledged_survives_a_kill_under_load_and_is_there_once()
    {
        Random dice = new(Number("FLEET_SEED", 20260708));
        FleetDatabase database = new(Path.Combine(_folder.FullName, "fleet.db"));
        await database.OpenAsync(CancellationToken.None);
        List<SentRecords> senders = [];
        for (int i = 0; i < Senders; i++)
        {
            senders.Add(await SentRecords.MakeAsync(database, FormattableString.Invariant($"KILL-{i}"), RecordsPerPack));
        }

        ServerProcess server = await ServerProcess.StartAsync(_folder.FullName);
        for (int kill = Number("FLEET_KILLS", 3); kill > 0; kill--)
        {
            await LoadAndKillAsync(server, senders, TimeSpan.FromMilliseconds(dice.Next(0, 1000)));
            await server.DisposeAsync();
            server = await ServerProcess.StartAsync(_folder.FullName);
            await VerifyAsync(database, senders);
        }

        await using ServerProcess last = server;
        using HttpClient http = new() { BaseAddress = last.Address };
        foreach (SentRecords sender in senders)
        {
            using HttpResponseMessage answer = await sender.SendNextAsync(http);
            answer.IsSuccessStatusCode.Should().BeTrue("the server goes on, and the pack without an answer counts once");
        }

        await VerifyAsync(database, senders);
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }

    private static async Task LoadAndKillAsync(ServerProcess server, IReadOnlyList<SentRecords> senders, TimeSpan after)
    {
        int before = senders.Sum(sender => sender.Promised);
        using HttpClient http = new() { BaseAddress = server.Address };
        using CancellationTokenSource stop = new();
        Task[] sending = [.. senders.Select(sender => Task.Run(() => sender.SendAsync(http, stop.Token)))];
        while (senders.Sum(sender => sender.Promised) < before + Senders)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System); // a kill without load proves nothing
        }

        await Task.Delay(after, TimeProvider.System);
        await server.KillAsync();
        await stop.CancelAsync();
        await Task.WhenAll(sending);
    }

    private static async Task VerifyAsync(FleetDatabase database, IEnumerable<SentRecords> senders)
    {
        MeasurementReader reader = new(database);
        foreach (SentRecords sender in senders)
        {
            await sender.VerifyAsync(reader);
        }

        (await new RollUpVerifier(database).VerifyAsync(null, CancellationToken.None)).Should().BeEmpty();
        Scalar(database, "PRAGMA integrity_check").Should().Be("ok");
        Scalar(database, "SELECT count(*) FROM pragma_foreign_key_check").Should().Be(0L);
    }

    private static object? Scalar(FleetDatabase database, string sql)
    {
        using SqliteConnection connection = new(database.ConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is the test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        return command.ExecuteScalar();
    }

    private static int Number(string variable, int otherwise) =>
        Environment.GetEnvironmentVariable(variable) is { } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;
}
