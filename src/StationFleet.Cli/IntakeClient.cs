using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary>What a server said of reports.</summary>
/// <param name="Accepted">Readings that were new.</param>
/// <param name="Repeated">Readings that were known.</param>
/// <param name="SetAside">Readings that do not count, by their lines.</param>
internal sealed record IntakeReceipt(long Accepted, long Repeated, IReadOnlyList<SetAsideRecord> SetAside)
{
    public static IntakeReceipt Nothing { get; } = new(0, 0, []);

    public static IntakeReceipt operator +(IntakeReceipt one, IntakeReceipt other) =>
        new(one.Accepted + other.Accepted, one.Repeated + other.Repeated, [.. one.SetAside, .. other.SetAside]);
}

/// <summary>Sends readings to a server's intake with a station's key; waits when the server says so.</summary>
internal sealed class IntakeClient : IDisposable
{
    private const int Attempts = 20;
    private static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(1);

    private readonly HttpClient _client;
    private readonly Uri _address;

    public IntakeClient(Uri server, string key, ReportSource source)
    {
        _client = new HttpClient { BaseAddress = server };
        _client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        _address = new Uri(source == ReportSource.LoggerFile ? "/api/v1/reports?source=logger-file" : "/api/v1/reports", UriKind.Relative);
    }

    public async Task<IntakeReceipt> PostAsync(IReadOnlyList<LoggerLine.Reading> pack, CancellationToken cancel)
    {
        byte[] body = SenmlWriter.Write(pack);
        for (int attempt = 1; ; attempt++)
        {
            using ByteArrayContent content = new(body);
            content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
            using HttpResponseMessage answer = await RequestAsync(content, cancel);
            string text = await answer.Content.ReadAsStringAsync(cancel);
            if (answer.StatusCode is HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable && attempt < Attempts)
            {
                TimeSpan wait = answer.Headers.RetryAfter?.Delta ?? TimeSpan.FromSeconds(attempt);
                await Task.Delay(wait < LongestWait ? wait : LongestWait, cancel);
                continue;
            }

            return answer.IsSuccessStatusCode || answer.StatusCode == HttpStatusCode.UnprocessableEntity
                ? Receipt(text, pack)
                : throw new VerbFailure(ExitCodes.Failed, Sentence(answer.StatusCode, text));
        }
    }

    public void Dispose() => _client.Dispose();

    private async Task<HttpResponseMessage> RequestAsync(HttpContent content, CancellationToken cancel)
    {
        try
        {
            return await _client.PostAsync(_address, content, cancel);
        }
        catch (HttpRequestException failure)
        {
            throw new VerbFailure(ExitCodes.Failed, $"The server {_client.BaseAddress} does not answer: {failure.Message.TrimEnd('.')}.");
        }
    }

    // 422 means that every record was set aside: they stand in its errors, each with a pointer such as #/1.
    private static IntakeReceipt Receipt(string json, IReadOnlyList<LoggerLine.Reading> pack)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        JsonElement root = document.RootElement;
        SetAsideRecord Aside(int index, JsonElement reason) => new(pack[index].Line, reason.GetString() ?? "", "");
        return root.TryGetProperty("accepted", out JsonElement accepted)
            ? new IntakeReceipt(
                accepted.GetInt64(),
                root.GetProperty("repeated").GetInt64(),
                [.. root.GetProperty("setAside").EnumerateArray().Select(row => Aside(row.GetProperty("index").GetInt32(), row.GetProperty("reason")))])
            : new IntakeReceipt(
                0,
                0,
                [.. root.GetProperty("errors").EnumerateArray().Select(row => Aside(
                    int.Parse(row.GetProperty("pointer").GetString()!["#/".Length..], System.Globalization.CultureInfo.InvariantCulture), row.GetProperty("detail")))]);
    }

    private static string Sentence(HttpStatusCode status, string problem)
    {
        string? said = null;
        try
        {
            using JsonDocument document = JsonDocument.Parse(problem);
            said = document.RootElement.TryGetProperty("detail", out JsonElement detail) ? detail.GetString()
                : document.RootElement.TryGetProperty("title", out JsonElement title) ? title.GetString() : null;
        }
        catch (JsonException)
        {
            // Not every server in between speaks problem details.
        }

        return $"The server refused the report with {(int)status}: {(said ?? status.ToString()).TrimEnd('.')}.";
    }
}
