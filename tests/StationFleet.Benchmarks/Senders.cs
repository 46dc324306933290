using System.Globalization;
using System.Net.Http.Headers;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>The senders, which run in a process of their own: each sends its next report when the last one is answered.</summary>
internal static class Senders
{
    /// <summary>Sends a workload; says when it is warm, then the seconds and the processor time of the timed part.</summary>
    public static async Task RunAsync(Workload load, Uri server, string[] keys)
    {
        byte[][][] timed = Bodies(load, 0, load.Timed);
        byte[][][] warmUp = Bodies(load, load.Senders, load.WarmUp);
        using HttpClient http = new(new SocketsHttpHandler { MaxConnectionsPerServer = load.Senders }) { BaseAddress = server };
        await SendAllAsync(http, keys[load.Senders..], warmUp);
        Console.WriteLine("warm");
        TimeSpan before = Environment.CpuUsage.TotalTime;
        long started = TimeProvider.System.GetTimestamp();
        await SendAllAsync(http, keys[..load.Senders], timed);
        double seconds = TimeProvider.System.GetElapsedTime(started).TotalSeconds;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{seconds:R} {(Environment.CpuUsage.TotalTime - before).TotalSeconds:R}"));
    }

    private static byte[][][] Bodies(Workload load, int firstStation, int reports) => [.. Enumerable.Range(firstStation, load.Senders)
        .Select(station => Enumerable.Range(0, reports).Select(index => SenmlWriter.Write(Workload.CodeOf(station), load.Report(index))).ToArray())];

    private static Task SendAllAsync(HttpClient http, string[] keys, byte[][][] bodies) =>
        Task.WhenAll(keys.Select((key, sender) => Task.Run(async () =>
        {
            AuthenticationHeaderValue authorization = new("Bearer", key);
            foreach (byte[] body in bodies[sender])
            {
                using HttpRequestMessage request = new(HttpMethod.Post, new Uri("/api/v1/reports", UriKind.Relative));
                request.Headers.Authorization = authorization;
                request.Content = new ByteArrayContent(body);
                request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
                using HttpResponseMessage answer = await http.SendAsync(request);
                if (!answer.IsSuccessStatusCode)
                {
                    throw new InvalidOperationException($"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync()}");
                }
            }
        })));
}
