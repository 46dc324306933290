using System.Globalization;
using System.Net.Http.Headers;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>The senders, which run in a process of their own: each sends its next report when the last one is answered.</summary>
internal static class Senders
{
    /// <summary>Sends a workload; prints the seconds that the timed part took, and the processor time of all it sent.</summary>
    public static async Task RunAsync(Workload load, Uri server, string[] keys)
    {
        byte[][][] bodies = [.. keys.Select((_, sender) => Enumerable.Range(0, load.WarmUp + load.Timed)
            .Select(index => SenmlWriter.Write(Workload.CodeOf(sender), load.Report(index))).ToArray())];
        TimeSpan before = Environment.CpuUsage.TotalTime;
        using HttpClient http = new(new SocketsHttpHandler { MaxConnectionsPerServer = load.Senders }) { BaseAddress = server };
        await SendAllAsync(http, keys, bodies, 0, load.WarmUp);
        long started = TimeProvider.System.GetTimestamp();
        await SendAllAsync(http, keys, bodies, load.WarmUp, load.Timed);
        double seconds = TimeProvider.System.GetElapsedTime(started).TotalSeconds;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{seconds:R} {(Environment.CpuUsage.TotalTime - before).TotalSeconds:R}"));
    }

    private static Task SendAllAsync(HttpClient http, string[] keys, byte[][][] bodies, int first, int count) =>
        Task.WhenAll(keys.Select((key, sender) => Task.Run(async () =>
        {
            AuthenticationHeaderValue authorization = new("Bearer", key);
            for (int index = first; index < first + count; index++)
            {
                using HttpRequestMessage request = new(HttpMethod.Post, new Uri("/api/v1/reports", UriKind.Relative));
                request.Headers.Authorization = authorization;
                request.Content = new ByteArrayContent(bodies[sender][index]);
                request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
                using HttpResponseMessage answer = await http.SendAsync(request);
                if (!answer.IsSuccessStatusCode)
                {
                    throw new InvalidOperationException($"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync()}");
                }
            }
        })));
}
