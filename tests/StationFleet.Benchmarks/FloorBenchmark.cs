using System.Diagnostics;
using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using StationFleet.Testing;

namespace StationFleet.Benchmarks;

/// <summary>
/// What no intake over HTTP can do without: a server that reads a report's bytes and answers, and the bare loop with the largest
/// transactions that the senders can bring together. Their processor time, spread evenly over the cores, is the floor.
/// </summary>
internal static class FloorBenchmark
{
    public static async Task RunAsync(int rounds)
    {
        Workload load = Workload.Small;
        List<double> ratios = [];
        for (int round = 1; round <= rounds; round++)
        {
            double bare = await BareLoop.RunAsync(load, reportsPerTransaction: 1);
            TimeSpan before = Environment.CpuUsage.TotalTime;
            await BareLoop.RunAsync(load, load.Senders);
            double store = (Environment.CpuUsage.TotalTime - before).TotalMicroseconds / (load.Senders * (load.WarmUp + load.Timed));
            (double server, double senders) = await AnswerAsync(load);
            double wall = (store + server + senders) / Environment.ProcessorCount;
            double one = bare * 1e6 / load.TimedReports;
            ratios.Add(one / wall);
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"round {round}: bare {one:0} µs a report; processor time per report: storing {store:0} µs, hearing and answering {server:0} µs, senders {senders:0} µs; ratio at most {one / wall:0.00}"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"floor: median ratio at most {Median.Of(ratios):0.00}"));
    }

    /// <summary>A server that reads what is posted and answers 200, until it is killed.</summary>
    public static async Task ServeAsync(string url)
    {
        WebApplicationBuilder builder = WebApplication.CreateBuilder();
        builder.Logging.ClearProviders();
        await using WebApplication app = builder.Build();
        app.MapPost("/api/v1/reports", async (HttpRequest request) =>
        {
            await request.Body.CopyToAsync(Stream.Null);
            return Results.Json(new { accepted = 12, repeated = 0, setAside = 0 });
        });
        app.MapGet("/api/v1/time", () => Results.Ok());
        await app.RunAsync(url);
    }

    private static async Task<(double Server, double Senders)> AnswerAsync(Workload load)
    {
        await using ServerProcess server = await ServerProcess.StartAsync(new ProcessStartInfo(Environment.ProcessPath!) { ArgumentList = { "answer" } });
        (_, TimeSpan hearing, TimeSpan sending) = await IntakeBenchmark.SendAsync("small", server, [.. Enumerable.Repeat("-", load.Stations)]);
        return (hearing.TotalMicroseconds / load.TimedReports, sending.TotalMicroseconds / load.TimedReports);
    }
}
