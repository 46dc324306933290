using System.Diagnostics;
using System.Globalization;
using StationFleet.Testing;

namespace StationFleet.Benchmarks;

/// <summary>The intake over HTTP beside the bare loop, in turns; what counts is the median of the rounds' ratios.</summary>
internal static class IntakeBenchmark
{
    public static async Task RunAsync(string name, int rounds)
    {
        Workload load = Workload.Named(name);

        // In bulk the largest transaction that the senders can bring together; else one durable commit for each report.
        int perTransaction = name == "bulk" ? load.Senders : 1;
        List<double> ratios = [];
        for (int round = 1; round <= rounds; round++)
        {
            double bare = load.TimedReports / await BareLoop.RunAsync(load, perTransaction);
            (double seconds, TimeSpan server, TimeSpan senders, double bytes) = await ServeAsync(name, load);
            double served = load.TimedReports / seconds;
            ratios.Add(served / bare);
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"round {round}: bare {bare,8:N0} reports/s ({bare * load.RecordsPerReport:N0} records/s), server {served,8:N0} ({served * load.RecordsPerReport:N0}), "
                + $"ratio {served / bare:0.00}; processor time per report: server {PerReport(server):0} µs, senders {PerReport(senders):0} µs; {bytes:0} bytes a record in the file"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: median ratio {Median.Of(ratios):0.00}"));

        double PerReport(TimeSpan time) => time.TotalMicroseconds / load.TimedReports;
    }

    /// <summary>Has a process of its own send the workload of a name to a server.</summary>
    /// <returns>Seconds, and the processor time of both, for the timed part.</returns>
    public static async Task<(double Seconds, TimeSpan Server, TimeSpan Senders)> SendAsync(string name, ServerProcess server, IEnumerable<string> keys)
    {
        ProcessStartInfo start = new(Environment.ProcessPath!)
        {
            ArgumentList = { "send", name, server.Address.ToString() },
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        };
        using Process senders = Process.Start(start)!;
        await senders.StandardInput.WriteLineAsync(string.Join(' ', keys));
        await senders.StandardOutput.ReadLineAsync();
        TimeSpan before = server.ProcessorTime;
        string[] told = (await senders.StandardOutput.ReadToEndAsync()).Split(' ');
        await senders.WaitForExitAsync();
        return (double.Parse(told[0], CultureInfo.InvariantCulture),
            server.ProcessorTime - before,
            TimeSpan.FromSeconds(double.Parse(told[1], CultureInfo.InvariantCulture)));
    }

    private static async Task<(double Seconds, TimeSpan Server, TimeSpan Senders, double BytesPerRecord)> ServeAsync(string name, Workload load)
    {
        using BenchFleet fleet = await BenchFleet.MakeAsync(load.Stations);
        await using ServerProcess server = await ServerProcess.StartAsync(fleet.Folder);
        (double seconds, TimeSpan hearing, TimeSpan sending) = await SendAsync(name, server, fleet.Keys);
        return (seconds, hearing, sending, (double)fleet.BytesInFile() / (load.Senders * (load.WarmUp + load.Timed) * load.RecordsPerReport));
    }
}
