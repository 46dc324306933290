using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using Microsoft.Data.Sqlite;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>What is too large, too often, packed wrongly or sent to the wrong place, and a database that cannot be written.</summary>
public sealed class IntakeLimitTests(FleetApp app) : IntakeTest(app)
{
    private const int LargestBody = 1 << 20;

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
        small.Length.Should().BeLessThan(100_000);

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
    public async Task A_database_that_another_program_holds_asks_to_wait_and_the_report_sent_again_counts()
    {
        await using SqliteConnection other = new(App.Get<FleetDatabase>().ConnectionString);
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
    public async Task AKey_that_sends_without_end_is_asked_to_wait_and_others_are_not()
    {
        Station other = await App.Databases.AddStationAsync(Station.Code + "-other");
        string otherKey = await App.AddKeyAsync(other.Id);
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
            Pack(0.5).Replace(Station.Code, other.Code, StringComparison.Ordinal),
            request => request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", otherKey));
        theOther.StatusCode.Should().Be(HttpStatusCode.OK);
    }

    [Theory]
    [InlineData("GET", "/api/v1/reports", HttpStatusCode.MethodNotAllowed, "POST")]
    [InlineData("PUT", "/api/v1/reports/", HttpStatusCode.MethodNotAllowed, "POST")]
    [InlineData("OPTIONS", "/api/v1/reports", HttpStatusCode.MethodNotAllowed, "POST")]
    [InlineData("MEASURE", "/api/v1/reports/dry-run", HttpStatusCode.MethodNotAllowed, "POST")]
    [InlineData("POST", "/api/v1/time", HttpStatusCode.MethodNotAllowed, "GET, HEAD")]
    [InlineData("POST", "/api/reports", HttpStatusCode.NotFound, null)]
    [InlineData("POST", "/api/v1/report", HttpStatusCode.NotFound, null)]
    public async Task A_mistaken_method_or_address_is_told_and_never_sent_to_the_sign_in_page(
        string method, string address, HttpStatusCode status, string? allowed)
    {
        using HttpRequestMessage request = new(new HttpMethod(method), address);

        using HttpResponseMessage answer = await App.Http.SendAsync(request);

        await ShouldBeProblemAsync(answer, status);
        answer.Content.Headers.Allow.Should().Equal(allowed?.Split(", ") ?? []);
    }

    [Fact]
    public async Task HEAD_is_answered_without_a_body()
    {
        using HttpResponseMessage reports = await App.Http.SendAsync(new HttpRequestMessage(HttpMethod.Head, "/api/v1/reports"));
        using HttpResponseMessage time = await App.Http.SendAsync(new HttpRequestMessage(HttpMethod.Head, "/api/v1/time"));

        (reports.StatusCode, time.StatusCode).Should().Be((HttpStatusCode.MethodNotAllowed, HttpStatusCode.OK));
        reports.Content.Headers.Allow.Should().Equal("POST");
    }

    [Theory]
    [InlineData("text/html")]
    [InlineData("application/cbor;q=1, */*;q=0")]
    public async Task A_refusal_is_a_problem_document_whatever_the_sender_accepts(string accept)
    {
        using HttpResponseMessage answer = await SendAsync("[]", request => request.Headers.TryAddWithoutValidation("Accept", accept));

        await ShouldBeProblemAsync(answer, HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task A_small_gzip_body_in_chunks_that_unpacks_to_64_MiB_is_refused()
    {
        ByteArrayContent content = new(Gzip(stream => stream.Write(new byte[64 << 20])));
        content.Headers.ContentEncoding.Add("gzip");

        using HttpResponseMessage answer = await SendAsync(content, request => request.Headers.TransferEncodingChunked = true);

        await ShouldBeProblemAsync(answer, HttpStatusCode.RequestEntityTooLarge);
    }

    [Fact]
    public async Task A_body_that_breaks_the_rules_of_chunks_is_refused()
    {
        using TcpClient client = new();
        await client.ConnectAsync(App.Address.Host, App.Address.Port);
        await using NetworkStream stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(
            $"POST /api/v1/reports HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nAuthorization: Bearer {Key}\r\nContent-Type: application/json\r\n"
            + "Transfer-Encoding: chunked\r\n\r\n5\r\n[1234\r\nno number\r\n"));

        string answer = await new StreamReader(stream).ReadToEndAsync();

        answer.Should().StartWith("HTTP/1.1 400 ").And.Contain("application/problem+json").And.Contain("nothing was stored");
    }

    [Fact]
    public async Task A_full_queue_asks_to_wait_at_once_and_what_waits_is_stored()
    {
        await using SqliteConnection other = new(App.Get<FleetDatabase>().ConnectionString);
        await other.OpenAsync();
        await using SqliteTransaction held = other.BeginTransaction(deferred: false);

        List<Task<HttpResponseMessage>> sent = [.. Enumerable.Range(0, 400).Select(i => PostAsync(Pack(0.5).Replace($"{Now}", $"{Now - 1 - i}", StringComparison.Ordinal)))];
        HttpResponseMessage turnedAway = await await Task.WhenAny(sent);
        await held.RollbackAsync();
        HttpResponseMessage[] answers = await Task.WhenAll(sent);

        await ShouldBeProblemAsync(turnedAway, HttpStatusCode.ServiceUnavailable);
        turnedAway.Headers.RetryAfter!.Delta.Should().BeGreaterThan(TimeSpan.Zero);
        answers.Select(answer => answer.StatusCode).Distinct().Should().BeEquivalentTo([HttpStatusCode.OK, HttpStatusCode.ServiceUnavailable]);
        (await StoredAsync("tank/fill")).Should().HaveCount(1 + answers.Count(answer => answer.StatusCode == HttpStatusCode.OK));
    }

    private static byte[] Gzip(Action<Stream> write)
    {
        using MemoryStream packed = new();
        using (GZipStream gzip = new(packed, CompressionLevel.SmallestSize))
        {
            write(gzip);
        }

        return packed.ToArray();
    }

    private Task<HttpResponseMessage> SendPackedAsync(byte[] packed)
    {
        ByteArrayContent content = new(packed);
        content.Headers.ContentEncoding.Add("gzip");
        return SendAsync(content);
    }
}
