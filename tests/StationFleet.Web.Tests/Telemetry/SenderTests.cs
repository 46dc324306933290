using System.Diagnostics;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>A test that runs another program; it says so when the program is not on this machine.</summary>
public sealed class RunsFactAttribute : FactAttribute
{
    public RunsFactAttribute(string program)
    {
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        Skip = folders.Any(folder => File.Exists(Path.Combine(folder, program))) ? null : $"There is no {program} on this machine.";
    }
}

/// <summary>The senders of docs/senders, run as they stand there against the server, whose fleet clock shows the real time.</summary>
public sealed class SenderTests : IAsyncLifetime
{
    private static int _stations;

    private readonly FleetApp _app = FleetApp.StartingAt(TimeProvider.System.GetUtcNow());
    private Station _station = null!;
    private string _key = "";

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _station = await _app.Databases.AddStationAsync($"S-{Interlocked.Increment(ref _stations)}");
        _key = await _app.AddKeyAsync(_station.Id);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    [RunsFact("curl")]
    public async Task The_shell_sender_sends_what_it_is_told_and_forgets_it()
    {
        (int code, string says) = await ShellAsync("tank/fill / 0.41\nbattery/voltage V 12.7\n");

        (code, says).Should().Be((0, ""));
        (await StoredAsync()).Select(row => (row.Name, row.Value)).Should().BeEquivalentTo([("tank/fill", 0.41), ("battery/voltage", 12.7)]);
        Waiting().Should().BeEmpty();
    }

    [RunsFact("curl")]
    public async Task The_shell_sender_asks_the_server_when_its_clock_was_never_set()
    {
        string folder = Directory.CreateDirectory(Path.Combine(_app.DataFolder, "bin")).FullName;
        string date = Path.Combine(folder, "date");
        await File.WriteAllTextAsync(date, "#!/bin/sh\necho 1000\n");
        await RunAsync("chmod", ["+x", date], "", []);

        (int code, string says) = await ShellAsync("tank/fill / 0.41\n", ("PATH", $"{folder}:{Environment.GetEnvironmentVariable("PATH")}"));

        (code, says).Should().Be((0, ""));
        (await StoredAsync()).Should().ContainSingle().Which.At.Should().BeCloseTo(_app.Clock.GetUtcNow(), TimeSpan.FromSeconds(1));
    }

    [RunsFact("curl")]
    public async Task The_shell_sender_waits_as_Retry_After_says_and_the_report_counts_once()
    {
        await using SqliteConnection other = new(_app.Get<FleetDatabase>().ConnectionString);
        await other.OpenAsync();
        SqliteTransaction held = other.BeginTransaction(deferred: false);

        Task<(int, string)> sending = ShellAsync("tank/fill / 0.41\n");
        while (_app.Get<ReportJournal>().Read(_station.Id).Entries.Count == 0)
        {
            await Task.Delay(100);
        }

        await held.RollbackAsync();
        (int code, string says) = await sending;

        (code, says).Should().Be((0, ""));
        _app.Get<ReportJournal>().Read(_station.Id).Entries.Select(entry => entry.Answer.Status).Should().Equal(200, 503);
        (await StoredAsync()).Should().ContainSingle();
    }

    [RunsFact("curl")]
    public async Task The_shell_sender_keeps_reports_while_its_key_is_wrong_or_the_server_away_and_drops_what_is_refused()
    {
        (int away, _) = await ShellAsync("tank/fill / 0.1\n", ("STATION_URL", "http://127.0.0.1:9"), ("TRIES", "1"));
        (int wrongKey, string says) = await ShellAsync("", ("STATION_KEY", "sfk_abcdefgh_abcdefghijklmnopqrstuvwxyz234567"));
        string[] kept = Waiting();
        (int good, _) = await ShellAsync("");
        (int refused, string why) = await ShellAsync("tank/fill / much\n");

        (away, wrongKey, good, refused).Should().Be((1, 1, 0, 0));
        kept.Should().ContainSingle();
        says.Should().Contain("The key is not valid");
        (await StoredAsync()).Should().ContainSingle().Which.Value.Should().Be(0.1);
        why.Should().StartWith("Dropped, answered with 400:");
        Waiting().Should().BeEmpty();
    }

    [RunsFact("curl")]
    public async Task The_shell_sender_keeps_the_newest_reports_only()
    {
        for (int i = 0; i < 5; i++)
        {
            await ShellAsync($"tank/fill / 0.{i}\n", ("STATION_URL", "http://127.0.0.1:9"), ("TRIES", "1"), ("MOST", "3"));
        }

        Waiting().Should().HaveCount(3);
        Waiting().Order(StringComparer.Ordinal).Select(File.ReadAllText).Last().Should().Contain("0.4");
    }

    [RunsFact("python3")]
    public async Task The_Python_sender_sends_what_it_measured()
    {
        string says = await PythonAsync("""
            s.measure("tank/fill", "/", 0.41)
            s.measure("battery/voltage", "V", 12.7)
            s.pack()
            print(s.send(), s.waiting)
            """);

        says.Should().Be("True []");
        (await StoredAsync()).Select(row => (row.Name, row.Value)).Should().BeEquivalentTo([("tank/fill", 0.41), ("battery/voltage", 12.7)]);
    }

    [RunsFact("python3")]
    public async Task The_Python_sender_asks_the_server_when_its_clock_was_never_set()
    {
        string says = await PythonAsync("""
            station.time.time = lambda: 1000
            s.measure("tank/fill", "/", 0.41)
            s.pack()
            print(s.send())
            """);

        says.Should().Be("True");
        (await StoredAsync()).Should().ContainSingle().Which.At.Should().BeCloseTo(_app.Clock.GetUtcNow(), TimeSpan.FromSeconds(1));
    }

    [RunsFact("python3")]
    public async Task The_Python_sender_puts_off_what_cannot_be_stored_now_and_drops_what_never_will()
    {
        await using SqliteConnection other = new(_app.Get<FleetDatabase>().ConnectionString);
        await other.OpenAsync();
        SqliteTransaction held = other.BeginTransaction(deferred: false);

        string busy = await PythonAsync("""
            s.measure("tank/fill", "/", 0.41)
            s.pack()
            sent, wait = s.send(), s.not_before - time.time()
            print(sent, len(s.waiting), 3 < wait <= 5, s.send())
            """);
        await held.RollbackAsync();
        string others = await PythonAsync("""
            s.url, good = "http://127.0.0.1:9", s.url
            s.measure("tank/fill", "/", 0.42); s.pack()
            print(s.send(), 20 <= s.not_before - time.time() <= 40, s.pause)
            s.url, s.not_before, s.key, key = good, None, s.key[:-1] + ("2" if s.key[-1] != "2" else "3"), s.key
            print(s.send(), 2400 <= s.not_before - time.time() <= 4800, len(s.waiting))
            s.not_before, s.key = None, key
            s.waiting.insert(0, b"[{")
            print(s.send(), len(s.waiting))
            s.MOST_WAITING = 3
            for i in range(5):
                s.measure("tank/fill", "/", i); s.pack()
            print(len(s.waiting))
            """);

        busy.Should().EndWith("False 1 True False", "it waits for the five seconds of Retry-After");
        others.Split('\n').Where(line => !line.StartsWith('{')).Should().Equal(
            "False True 60", "False True 1", "dropped, answered with 400", "True 0", "3");
        (await StoredAsync()).Should().ContainSingle().Which.Value.Should().Be(0.42);
    }

    private string Spool => Path.Combine(_app.DataFolder, "spool");

    private string[] Waiting() => Directory.GetFiles(Spool, "*.json");

    private async Task<IReadOnlyList<Measurement>> StoredAsync() => await _app.Get<MeasurementReader>().RangeAsync(
        _station.Id, ["tank/fill", "battery/voltage"], _app.Clock.GetUtcNow().AddHours(-1), _app.Clock.GetUtcNow().AddHours(1), CancellationToken.None);

    private async Task<(int Code, string Says)> ShellAsync(string input, params (string Name, string Value)[] settings)
    {
        (int code, string output, string error) = await RunAsync("/bin/sh", [Repository.PathOf("docs/senders/send-report.sh")], input,
        [
            ("STATION_URL", _app.Address.ToString().TrimEnd('/')), ("STATION_CODE", _station.Code), ("STATION_KEY", _key), ("SPOOL", Spool), .. settings,
        ]);
        output.Should().BeEmpty();
        return (code, error);
    }

    private async Task<string> PythonAsync(string lines)
    {
        string script = $"""
            import sys, time
            sys.dont_write_bytecode = True
            import station
            s = station.Sender("{_app.Address.ToString().TrimEnd('/')}", "{_station.Code}", "{_key}")

            """ + lines;
        string path = $"{Repository.PathOf("docs/senders")}:{Repository.PathOf("tests/StationFleet.Web.Tests/Telemetry/Senders")}";
        (int code, string output, string error) = await RunAsync("python3", ["-"], script, [("PYTHONPATH", path)]);
        (code, error).Should().Be((0, ""));
        return output.Trim();
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(
        string program, string[] arguments, string input, IEnumerable<(string Name, string Value)> settings)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach ((string name, string value) in settings)
        {
            start.Environment[name] = value;
        }

        start.Environment["no_proxy"] = "*";
        using Process process = Process.Start(start)!;
        await process.StandardInput.WriteAsync(input);
        process.StandardInput.Close();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> error = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, await output, await error);
    }
}
