using System.Diagnostics;
using System.Globalization;

namespace StationFleet.Testing;

/// <summary>The real server in a process of its own, so that it can be killed, starved or measured.</summary>
public sealed class ServerProcess : IAsyncDisposable
{
    private static readonly TimeSpan StartsWithin = TimeSpan.FromSeconds(60);

    private readonly Process _process;

    private ServerProcess(Process process, Uri address) => (_process, Address) = (process, address);

    public Uri Address { get; }

    /// <summary>Processor time it has used so far.</summary>
    public TimeSpan ProcessorTime
    {
        get
        {
            _process.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    /// <summary>Starts the server that was built beside the caller and waits until it answers.</summary>
    /// <param name="dataFolder">Its data folder.</param>
    /// <param name="environment">Settings, as environment variables.</param>
    public static async Task<ServerProcess> StartAsync(string dataFolder, params (string Name, string Value)[] environment)
    {
        ProcessStartInfo start = new("dotnet")
        {
            ArgumentList =
            {
                Path.Combine(AppContext.BaseDirectory, "StationFleet.Web.dll"),
                "--contentRoot", AppContext.BaseDirectory,
                "--Data", dataFolder,
            },
            Environment =
            {
                ["Scheduler__Enabled"] = "false",
                ["Logging__LogLevel__Default"] = "Warning",
            },
        };
        foreach ((string name, string value) in environment)
        {
            start.Environment[name] = value;
        }

        return await StartAsync(start);
    }

    /// <summary>Starts a server on a free port, which it is told by --urls, and waits until it answers.</summary>
    /// <param name="start">What to start.</param>
    public static async Task<ServerProcess> StartAsync(ProcessStartInfo start)
    {
        Uri address = new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{TestSmtpServer.FreePort()}"));
        start.ArgumentList.Add("--urls");
        start.ArgumentList.Add(address.ToString());
        ServerProcess server = new(Process.Start(start)!, address);
        await server.WaitUntilItAnswersAsync();
        return server;
    }

    /// <summary>Ends it at once, as a power cut would: SIGKILL, no shutdown.</summary>
    public async Task KillAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            await KillAsync();
        }

        _process.Dispose();
    }

    private async Task WaitUntilItAnswersAsync()
    {
        using HttpClient http = new() { BaseAddress = Address };
        long started = TimeProvider.System.GetTimestamp();
        while (true)
        {
            if (_process.HasExited || TimeProvider.System.GetElapsedTime(started) > StartsWithin)
            {
                throw new InvalidOperationException($"The server does not answer at {Address}.");
            }

            try
            {
                using HttpResponseMessage answer = await http.GetAsync(new Uri("/api/v1/time", UriKind.Relative));
                if (answer.IsSuccessStatusCode)
                {
                    return;
                }
            }
            catch (HttpRequestException)
            {
                // It does not listen yet.
            }

            await Task.Delay(TimeSpan.FromMilliseconds(50), TimeProvider.System);
        }
    }
}
