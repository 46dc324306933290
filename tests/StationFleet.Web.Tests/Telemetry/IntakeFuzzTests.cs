using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using StationFleet.Storage.Fleet;
using Xunit.Abstractions;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>
/// Broken and hostile packs through the whole server. FLEET_FUZZ sets how many (100,000), FLEET_SEED which ones; a failure names the
/// number of its body, which <see cref="PackMutator"/> makes again.
/// </summary>
public sealed class IntakeFuzzTests(FleetApp app, ITestOutputHelper output) : IClassFixture<FleetApp>
{
    // What a key may send at once.
    private const int PerKey = 500;
    private const int AtATime = 8;

    // The last part of the run may not hold more than the first by this; the first part makes all series, keys and buffers.
    private const long MemoryMayGrowBy = 32 << 20;

    [Fact]
    public async Task No_body_makes_the_server_fail_or_its_memory_grow()
    {
        int bodies = Number("FLEET_FUZZ", 100_000);
        int seed = Number("FLEET_SEED", 1);
        ConcurrentDictionary<HttpStatusCode, int> answers = new();
        Sender[] senders = await AddSendersAsync(Math.Max(2, bodies / PerKey));

        await SendAsync(senders[..(senders.Length / 2)], seed, answers);
        long warm = MemoryHeld();
        await SendAsync(senders[(senders.Length / 2)..], seed + bodies, answers);
        long end = MemoryHeld();

        output.WriteLine($"{string.Join(", ", answers.OrderBy(answer => answer.Key))}; heap {warm >> 20} MiB, then {end >> 20} MiB");
        answers.Keys.Should().OnlyContain(status => (int)status < 500);
        answers.Should().ContainKeys(
            [HttpStatusCode.OK, HttpStatusCode.BadRequest, HttpStatusCode.UnprocessableEntity, HttpStatusCode.Forbidden],
            "bodies that all end in the same way would test one line");
        (end - warm).Should().BeLessThan(MemoryMayGrowBy);
        using HttpResponseMessage lawful = await PostAsync(senders[0], """[{"n":"tank/fill","t":1783509900,"v":0.5}]"""u8.ToArray(), isGzip: false);
        lawful.StatusCode.Should().Be(HttpStatusCode.OK, "what is lawful is still taken");
    }

    private async Task<Sender[]> AddSendersAsync(int count)
    {
        Sender[] senders = new Sender[count];
        for (int i = 0; i < count; i++)
        {
            Station station = await app.Databases.AddStationAsync(FormattableString.Invariant($"F-{i}"));
            senders[i] = new Sender(station.Code, await app.AddKeyAsync(station.Id));
        }

        return senders;
    }

    private Task SendAsync(Sender[] senders, int seed, ConcurrentDictionary<HttpStatusCode, int> answers) => Parallel.ForAsync(
        0,
        senders.Length,
        new ParallelOptions { MaxDegreeOfParallelism = AtATime },
        async (index, _) =>
        {
            for (int i = 0; i < PerKey; i++)
            {
                int number = seed + (index * PerKey) + i;
                (byte[] body, bool isGzip) = PackMutator.Make(number, senders[index].Code);
                using HttpResponseMessage answer = await PostAsync(senders[index], body, isGzip);
                ((int)answer.StatusCode).Should().BeLessThan(500, $"of body {number}");
                answers.AddOrUpdate(answer.StatusCode, 1, (_, count) => count + 1);
            }
        });

    private async Task<HttpResponseMessage> PostAsync(Sender sender, byte[] body, bool isGzip)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports") { Content = new ByteArrayContent(body) };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", sender.Key);
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/senml+json");
        if (isGzip)
        {
            request.Content.Headers.ContentEncoding.Add("gzip");
        }

        return await app.Http.SendAsync(request);
    }

    private static long MemoryHeld()
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        GC.Collect();
        return GC.GetTotalMemory(forceFullCollection: true);
    }

    private static int Number(string variable, int otherwise) =>
        Environment.GetEnvironmentVariable(variable) is { } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;

    private sealed record Sender(string Code, string Key);
}
