using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>
/// The intake as a station controller sees it, over HTTP. Before each test one report of a station is stored; whatever is sent after
/// it, it must still be there.
/// </summary>
public sealed class IntakeTests(FleetApp app) : IClassFixture<FleetApp>, IAsyncLifetime
{
    private const int LargestBody = 1 << 20;

    private static readonly long Now = FleetApp.Start.ToUnixTimeSeconds();
    private static readonly DateTimeOffset Before = FleetApp.Start.AddMinutes(-30);
    private static int _stations;

    private Station _station = null!;
    private string _key = "";

    public async Task InitializeAsync()
    {
        _station = await app.AddStationAsync($"T-{Interlocked.Increment(ref _stations)}");
        _key = await app.AddKeyAsync(_station.Id);
        using HttpResponseMessage stored = await PostAsync(
            $$"""[{"bn":"{{_station.Code}}/","bt":{{Before.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.25},{"n":"tools/brush/uses","u":"count","v":100}]""");
        stored.StatusCode.Should().Be(HttpStatusCode.OK);
    }

    public async Task DisposeAsync()
    {
        IReadOnlyList<Measurement> stored = await StoredAsync("tank/fill", "tools/brush/uses");
        stored.Should().Contain(new Measurement("tank/fill", Before, 0.25)).And.Contain(new Measurement("tools/brush/uses", Before, 100));
    }

    [Fact]
    public async Task A_report_is_stored_and_answered_with_what_became_of_each_record()
    {
        using HttpResponseMessage answer = await PostAsync($$"""
            [{"bn":"{{_station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":0.41},{"n":"battery/charge","u":"%EL","v":98},
             {"n":"label","vs":"Dam Road"}]
            """);

        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        answer.Content.Headers.ContentType!.ToString().Should().Be("application/json; charset=utf-8");
        (await answer.Content.ReadAsStringAsync()).Should().Be(
            """{"accepted":2,"repeated":0,"setAside":[{"index":2,"reason":"Only numbers and booleans are stored; this record holds text or data."}]}""");
        (await StoredAsync("battery/charge")).Should().Equal(new Measurement("battery/charge", FleetApp.Start, 0.98));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("Bearer")]
    [InlineData("Bearer sfk_abcdefgh_abcdefghijklmnopqrstuvwxyz234567")]
    [InlineData("Bearer nonsense")]
    [InlineData("Basic dXNlcjpwYXNz")]
    public async Task An_unknown_key_is_refused(string? authorization)
    {
        using HttpResponseMessage answer = await SendAsync(Pack(0.9), request =>
        {
            request.Headers.Authorization = null;
            if (authorization is not null)
            {
                request.Headers.TryAddWithoutValidation("Authorization", authorization);
            }
        });

        await ShouldBeProblemAsync(answer, HttpStatusCode.Unauthorized);
        answer.Headers.WwwAuthenticate.Should().ContainSingle().Which.Scheme.Should().Be("Bearer");
        answer.Headers.Should().NotContain(header => header.Key == "Set-Cookie");
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task A_key_with_a_right_head_and_a_wrong_secret_is_refused()
    {
        string wrong = _key[..^1] + (_key[^1] == 'a' ? 'b' : 'a');

        using HttpResponseMessage answer = await SendAsync(
            Pack(0.9), request => request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", wrong));

        await ShouldBeProblemAsync(answer, HttpStatusCode.Unauthorized);
        answer.Headers.WwwAuthenticate.ToString().Should().Contain("invalid_token");
    }

    [Fact]
    public async Task Another_stations_base_name_is_refused_as_a_whole()
    {
        using HttpResponseMessage answer = await PostAsync(
            $$"""[{"bn":"{{_station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":0.9},{"bn":"OTT-1/","n":"tank/fill","u":"/","v":0.9}]""");

        await ShouldBeProblemAsync(answer, HttpStatusCode.Forbidden);
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task Broken_JSON_is_refused_as_a_whole_with_the_place_of_the_record()
    {
        using HttpResponseMessage answer = await PostAsync($$"""[{"n":"tank/fill","t":{{Now}},"u":"/","v":0.9},{"n":"tank/fill","v":""");

        JsonElement problem = await ShouldBeProblemAsync(answer, HttpStatusCode.BadRequest);
        problem.GetProperty("errors")[0].GetProperty("pointer").GetString().Should().Be("#/1");
        problem.GetProperty("detail").GetString().Should().StartWith("Record 1:");
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task A_wrong_unit_sets_its_record_aside_and_the_rest_counts()
    {
        using HttpResponseMessage answer = await PostAsync(
            $$"""[{"bt":{{Now}},"n":"tank/fill","u":"m","v":0.9},{"n":"battery/voltage","u":"V","v":12.7}]""");

        JsonElement receipt = await ReceiptAsync(answer);
        receipt.GetProperty("accepted").GetInt32().Should().Be(1);
        receipt.GetProperty("setAside")[0].GetProperty("index").GetInt32().Should().Be(0);
        receipt.GetProperty("setAside")[0].GetProperty("reason").GetString().Should().Contain("does not fit tank/fill");
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Theory]
    [InlineData(12_345, "1978")]
    [InlineData(1_783_515_900 + 7 * 86_400, "fast")]
    public async Task A_clock_in_1970_or_in_next_week_sets_records_aside_and_the_station_counts_as_heard(long time, string reason)
    {
        app.Clock.Advance(TimeSpan.FromSeconds(1));
        DateTimeOffset heard = app.Clock.GetUtcNow();

        using HttpResponseMessage answer = await PostAsync($$"""[{"n":"tank/fill","t":{{time}},"u":"/","v":0.9}]""");

        JsonElement problem = await ShouldBeProblemAsync(answer, HttpStatusCode.UnprocessableEntity);
        problem.GetProperty("errors")[0].GetProperty("detail").GetString().Should().Contain("clock").And.Contain(reason);
        (await app.Get<MeasurementReader>().LastHeardAsync(CancellationToken.None))[_station.Id].Should().Be(heard);
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task A_body_over_the_limit_is_refused()
    {
        byte[] body = new byte[LargestBody + 1];
        Array.Fill(body, (byte)' ');

        using HttpResponseMessage answer = await SendAsync(new ByteArrayContent(body));

        await ShouldBeProblemAsync(answer, HttpStatusCode.RequestEntityTooLarge);
    }

    [Fact]
    public async Task A_body_of_unknown_length_over_the_limit_is_refused()
    {
        using HttpResponseMessage answer = await SendAsync(
            new ByteArrayContent(new byte[LargestBody + 1]), request => request.Headers.TransferEncodingChunked = true);

        await ShouldBeProblemAsync(answer, HttpStatusCode.RequestEntityTooLarge);
    }

    [Fact]
    public async Task A_body_of_exactly_the_limit_is_read()
    {
        using HttpResponseMessage answer = await PostAsync(Pack(0.5).PadRight(LargestBody));

        (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(1);
    }

    [Fact]
    public async Task A_small_gzip_body_that_unpacks_to_64_MiB_is_refused()
    {
        byte[] small = Gzip(stream => stream.Write(new byte[64 << 20]));
        small.Length.Should().BeLessThan(LargestBody / 2);

        using HttpResponseMessage answer = await SendPackedAsync(small);

        await ShouldBeProblemAsync(answer, HttpStatusCode.RequestEntityTooLarge);
    }

    [Fact]
    public async Task A_gzip_body_is_unpacked()
    {
        byte[] packed = Gzip(stream => stream.Write(Encoding.UTF8.GetBytes(Pack(0.5))));

        using HttpResponseMessage answer = await SendPackedAsync(packed);

        (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(1);
    }

    [Fact]
    public async Task A_damaged_or_cut_gzip_body_is_refused()
    {
        byte[] packed = Gzip(stream => stream.Write(Encoding.UTF8.GetBytes(Pack(0.5))));

        using HttpResponseMessage damaged = await SendPackedAsync([1, 2, 3, 4]);
        using HttpResponseMessage cut = await SendPackedAsync(packed[..(packed.Length / 2)]);

        await ShouldBeProblemAsync(damaged, HttpStatusCode.BadRequest);
        await ShouldBeProblemAsync(cut, HttpStatusCode.BadRequest);
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task The_same_pack_sent_twice_is_stored_once()
    {
        using HttpResponseMessage first = await PostAsync(Pack(0.5));
        using HttpResponseMessage second = await PostAsync(Pack(0.5));

        (await first.Content.ReadAsStringAsync()).Should().Be("""{"accepted":1,"repeated":0,"setAside":[]}""");
        (await second.Content.ReadAsStringAsync()).Should().Be("""{"accepted":0,"repeated":1,"setAside":[]}""");
        (await StoredAsync("tank/fill")).Should().HaveCount(2);
    }

    [Fact]
    public async Task Another_value_for_a_known_instant_is_set_aside_and_the_first_stays()
    {
        using HttpResponseMessage answer = await PostAsync(
            $$"""[{"bt":{{Before.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.75},{"n":"battery/voltage","v":12.7}]""");

        (await ReceiptAsync(answer)).GetProperty("setAside")[0].GetProperty("reason").GetString().Should().Contain("already known");
        (await StoredAsync("tank/fill")).Should().ContainSingle().Which.Value.Should().Be(0.25);
    }

    [Fact]
    public async Task Packs_out_of_order_are_all_stored()
    {
        foreach (int minute in (int[])[-5, -15, -20, -10])
        {
            using HttpResponseMessage answer = await PostAsync(
                $$"""[{"bn":"{{_station.Code}}/","bt":{{Now + minute * 60}},"n":"tank/fill","u":"/","v":0.5}]""");
            (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(1);
        }

        (await StoredAsync("tank/fill")).Select(measurement => measurement.At).Should().Equal(
            Before, FleetApp.Start.AddMinutes(-20), FleetApp.Start.AddMinutes(-15), FleetApp.Start.AddMinutes(-10), FleetApp.Start.AddMinutes(-5));
    }

    [Fact]
    public async Task A_counter_that_restarts_is_stored_as_sent()
    {
        using HttpResponseMessage answer = await PostAsync($$"""
            [{"bn":"{{_station.Code}}/","bt":{{Now}},"n":"tools/brush/uses","t":-600,"u":"count","v":104},
             {"n":"tools/brush/uses","u":"count","v":2},{"n":"controller/uptime","u":"s","v":240}]
            """);

        (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(3);
        (await StoredAsync("tools/brush/uses")).Select(measurement => measurement.Value).Should().Equal(100, 104, 2);
    }

    [Theory]
    [InlineData("text/plain", null)]
    [InlineData("application/senml+cbor", null)]
    [InlineData("application/senml+json; charset=utf-16", null)]
    [InlineData(null, null)]
    [InlineData("application/senml+json", "br")]
    [InlineData("application/senml+json", "gzip, gzip")]
    public async Task Another_media_type_or_coding_is_refused_with_what_would_be_taken(string? type, string? coding)
    {
        ByteArrayContent content = new(Encoding.UTF8.GetBytes(Pack(0.5)));
        content.Headers.TryAddWithoutValidation("Content-Type", type ?? "");
        content.Headers.TryAddWithoutValidation("Content-Encoding", coding ?? "identity");

        using HttpResponseMessage answer = await SendAsync(content);

        await ShouldBeProblemAsync(answer, HttpStatusCode.UnsupportedMediaType);
        answer.Headers.NonValidated[coding is null ? "Accept" : "Accept-Encoding"].ToString()
            .Should().Be(coding is null ? "application/senml+json, application/json" : "gzip");
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    [Fact]
    public async Task A_report_of_which_nothing_counts_is_kept_once()
    {
        const string Pack = """[{"n":"label","t":1783515900,"vs":"Dam Road"},{"n":"tank/fill","t":1783515900,"u":"m","v":0.9}]""";

        using HttpResponseMessage first = await PostAsync(Pack);
        using HttpResponseMessage second = await PostAsync(Pack);

        JsonElement problem = await ShouldBeProblemAsync(first, HttpStatusCode.UnprocessableEntity);
        problem.GetProperty("errors").EnumerateArray().Select(error => error.GetProperty("pointer").GetString()).Should().Equal("#/0", "#/1");
        await ShouldBeProblemAsync(second, HttpStatusCode.UnprocessableEntity);
        (await app.Get<MeasurementReader>().SetAsideAsync(_station.Id, 100, CancellationToken.None)).Should().HaveCount(2);
    }

    [Fact]
    public async Task A_database_that_another_program_holds_asks_to_wait_and_the_report_sent_again_counts()
    {
        await using SqliteConnection other = new(app.Get<FleetDatabase>().ConnectionString);
        await other.OpenAsync();
        await using SqliteTransaction held = other.BeginTransaction(deferred: false);

        using HttpResponseMessage busy = await PostAsync(Pack(0.5));
        await held.RollbackAsync();
        using HttpResponseMessage again = await PostAsync(Pack(0.5));

        await ShouldBeProblemAsync(busy, HttpStatusCode.ServiceUnavailable);
        busy.Headers.RetryAfter!.Delta.Should().BeGreaterThan(TimeSpan.Zero);
        (await ReceiptAsync(again)).GetProperty("accepted").GetInt32().Should().Be(1);
    }

    [Fact]
    public async Task A_key_that_sends_without_end_is_asked_to_wait_and_others_are_not()
    {
        Station other = await app.AddStationAsync(_station.Code + "-other");
        string otherKey = await app.AddKeyAsync(other.Id);
        int answered = 0;
        HttpResponseMessage answer = await PostAsync("[]");
        while (answer.StatusCode != HttpStatusCode.TooManyRequests && answered < 2000)
        {
            answered++;
            answer.Dispose();
            answer = await PostAsync("[]");
        }

        await ShouldBeProblemAsync(answer, HttpStatusCode.TooManyRequests);
        answered.Should().BeInRange(599, 1200, "the burst is 600, and two more come each second");
        answer.Headers.RetryAfter!.Delta.Should().BeGreaterThan(TimeSpan.Zero);
        answer.Dispose();
        using HttpResponseMessage theOther = await SendAsync(
            Pack(0.5).Replace(_station.Code, other.Code, StringComparison.Ordinal),
            request => request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", otherKey));
        theOther.StatusCode.Should().Be(HttpStatusCode.OK);
    }

    [Fact]
    public async Task The_time_is_told_to_anybody()
    {
        using HttpResponseMessage answer = await app.Http.GetAsync("/api/v1/time");

        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        answer.Headers.CacheControl!.NoStore.Should().BeTrue();
        JsonElement time = await JsonAsync(answer);
        DateTimeOffset now = app.Clock.GetUtcNow();
        time.GetProperty("time").GetDecimal().Should().Be(now.ToUnixTimeMilliseconds() / 1000m);
        time.GetProperty("iso").GetDateTimeOffset().Should().Be(now);
    }

    private static byte[] Gzip(Action<Stream> write)
    {
        using MemoryStream packed = new();
        using (GZipStream gzip = new(packed, CompressionLevel.Fastest))
        {
            write(gzip);
        }

        return packed.ToArray();
    }

    private static async Task<JsonElement> JsonAsync(HttpResponseMessage answer)
    {
        using JsonDocument document = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        return document.RootElement.Clone();
    }

    private static async Task<JsonElement> ReceiptAsync(HttpResponseMessage answer)
    {
        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        return await JsonAsync(answer);
    }

    private static async Task<JsonElement> ShouldBeProblemAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        answer.StatusCode.Should().Be(status);
        answer.Content.Headers.ContentType!.MediaType.Should().Be("application/problem+json");
        JsonElement problem = await JsonAsync(answer);
        problem.GetProperty("status").GetInt32().Should().Be((int)status);
        problem.GetProperty("title").GetString().Should().NotBeEmpty();
        problem.GetProperty("detail").GetString().Should().NotBeEmpty();
        return problem;
    }

    private string Pack(double fill) =>
        FormattableString.Invariant($$"""[{"bn":"{{_station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":{{fill}}}]""");

    private Task<HttpResponseMessage> PostAsync(string json) => SendAsync(json, null);

    private Task<HttpResponseMessage> SendAsync(string json, Action<HttpRequestMessage>? change) =>
        SendAsync(new StringContent(json, Encoding.UTF8, "application/senml+json"), change);

    private Task<HttpResponseMessage> SendPackedAsync(byte[] packed)
    {
        ByteArrayContent content = new(packed);
        content.Headers.ContentEncoding.Add("gzip");
        return SendAsync(content);
    }

    private async Task<HttpResponseMessage> SendAsync(HttpContent content, Action<HttpRequestMessage>? change = null)
    {
        content.Headers.ContentType ??= content.Headers.NonValidated.Contains("Content-Type")
            ? null
            : new MediaTypeHeaderValue("application/senml+json");
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports") { Content = content };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", _key);
        change?.Invoke(request);
        return await app.Http.SendAsync(request);
    }

    private Task<IReadOnlyList<Measurement>> StoredAsync(params string[] names) => app.Get<MeasurementReader>().RangeAsync(
        _station.Id, names, FleetApp.Start.AddDays(-1), FleetApp.Start.AddDays(30), CancellationToken.None);
}
