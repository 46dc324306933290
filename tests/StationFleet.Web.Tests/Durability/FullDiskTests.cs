using System.Diagnostics;
using System.Net;
using Microsoft.Data.Sqlite;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using Xunit.Abstractions;

namespace StationFleet.Web.Tests.Durability;

/// <summary>
/// The real server on a disk of five megabytes. It needs the right to mount one (root); without, only the store's own test with a
/// limited number of pages speaks for the full disk.
/// </summary>
public sealed class FullDiskTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo _disk = Directory.CreateTempSubdirectory("fleet-disk-");

    [Fact]
    public async Task A_full_disk_asks_to_wait_keeps_what_it_promised_and_goes_on_when_there_is_room()
    {
        if (!OperatingSystem.IsLinux() || await RunAsync("mount", "-t", "tmpfs", "-o", "size=5m", "tmpfs", _disk.FullName) != 0)
        {
            output.WriteLine("No right to mount a small disk here: see WriterUnderStressTests for the store's own test.");
            return;
        }

        FleetDatabase database = new(Path.Combine(_disk.FullName, "fleet.db"));
        await database.OpenAsync(CancellationToken.None);
        SentRecords sender = await SentRecords.MakeAsync(database, "FULL-1", 600);
        string ballast = Path.Combine(_disk.FullName, "ballast");
        await File.WriteAllBytesAsync(ballast, new byte[1 << 20]);
        await using ServerProcess server = await ServerProcess.StartAsync(_disk.FullName);
        using HttpClient http = new() { BaseAddress = server.Address };

        using HttpResponseMessage full = await SendUntilRefusedAsync(sender, http);
        using HttpResponseMessage stillFull = await sender.SendNextAsync(http);
        await VerifyAsync(database, sender);
        File.Delete(ballast);
        using HttpResponseMessage after = await sender.SendNextAsync(http);

        sender.Promised.Should().BeGreaterThan(2);
        foreach (HttpResponseMessage refused in new[] { full, stillFull })
        {
            refused.StatusCode.Should().Be(HttpStatusCode.ServiceUnavailable);
            refused.Headers.RetryAfter!.Delta.Should().BePositive();
            refused.Content.Headers.ContentType!.MediaType.Should().Be("application/problem+json");
        }

        after.StatusCode.Should().Be(HttpStatusCode.OK, "there is room again");
        await VerifyAsync(database, sender);
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        if (OperatingSystem.IsLinux())
        {
            RunAsync("umount", "-l", _disk.FullName).GetAwaiter().GetResult();
        }

        _disk.Delete(recursive: true);
    }

    private static async Task<HttpResponseMessage> SendUntilRefusedAsync(SentRecords sender, HttpClient http)
    {
        while (true)
        {
            HttpResponseMessage answer = await sender.SendNextAsync(http);
            if (answer.StatusCode != HttpStatusCode.OK)
            {
                return answer;
            }

            answer.Dispose();
        }
    }

    private static async Task VerifyAsync(FleetDatabase database, SentRecords sender)
    {
        await sender.VerifyAsync(new MeasurementReader(database));
        (await new RollUpVerifier(database).VerifyAsync(sender.Station, CancellationToken.None)).Should().BeEmpty();
    }

    private static async Task<int> RunAsync(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;
        await process.WaitForExitAsync();
        return process.ExitCode;
    }
}
