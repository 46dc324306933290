using System.CommandLine;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Cli;

/// <summary><c>stationfleet send</c>: a file's measurements to a server, as a station would report them.</summary>
internal static class SendVerb
{
    private const int RecordsPerPack = 500;
    private const int Attempts = 6;

    public static Command Make()
    {
        Option<Uri> url = new("--url")
        {
            Description = "The server's address, such as http://localhost:5080.", Required = true, CustomParser = Arguments.WebAddress,
        };
        Option<string> key = new("--key") { Description = "The station's key.", Required = true };
        Option<FileInfo> file = new("--file") { Description = "A long CSV file of one station.", Required = true };
        Option<double> rate = new("--rate") { Description = "At most so many reports a minute.", DefaultValueFactory = _ => 600 };
        Command command = new("send", "Send the measurements of a long CSV file to a server as SenML packs.") { url, key, file, rate };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => SendAsync(
            console, parsed.GetRequiredValue(url), parsed.GetRequiredValue(key), parsed.GetRequiredValue(file), parsed.GetValue(rate), cancel)));
        return command;
    }

    private static async Task SendAsync(VerbConsole console, Uri url, string key, FileInfo file, double rate, CancellationToken cancel)
    {
        if (!file.Exists)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"There is no file {file.FullName}.");
        }

        if (!(rate > 0))
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The rate must be above nought.");
        }

        using HttpClient client = new() { BaseAddress = url };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        List<LongCsvLine> lines = [.. LongCsv.Read(file.FullName)];
        Receipt total = new(0, 0, 0);
        int sent = 0;
        TimeSpan pause = TimeSpan.FromMinutes(1 / rate);
        foreach (List<LongCsvLine> pack in Packs(lines))
        {
            long started = TimeProvider.System.GetTimestamp();
            total += await PostAsync(client, pack, cancel);
            sent += pack.Count;
            console.Progress.Show((double)sent / lines.Count);
            TimeSpan left = pause - TimeProvider.System.GetElapsedTime(started);
            if (left > TimeSpan.Zero && sent < lines.Count)
            {
                await Task.Delay(left, cancel);
            }
        }

        console.Progress.Done();
        await console.Output.WriteLineAsync(string.Create(
            CultureInfo.InvariantCulture, $"accepted {total.Accepted}, repeated {total.Repeated}, set aside {total.SetAside}"));
    }

    // What was received together is sent together; a file without that column goes in packs of one size.
    private static IEnumerable<List<LongCsvLine>> Packs(IReadOnlyList<LongCsvLine> lines)
    {
        List<LongCsvLine> pack = [];
        foreach (LongCsvLine line in lines)
        {
            if (pack.Count > 0 && (pack.Count == RecordsPerPack || pack[0].Received != line.Received))
            {
                yield return pack;
                pack = [];
            }

            pack.Add(line);
        }

        if (pack.Count > 0)
        {
            yield return pack;
        }
    }

    private static async Task<Receipt> PostAsync(HttpClient client, List<LongCsvLine> pack, CancellationToken cancel)
    {
        Dictionary<string, string?> units = pack.GroupBy(line => line.Measurement.Name)
            .ToDictionary(group => group.Key, group => group.First().Unit is { Length: > 0 } unit ? unit : null);
        byte[] body = SenmlWriter.Write("", [.. pack.Select(line => line.Measurement)], units.GetValueOrDefault);
        for (int attempt = 1; ; attempt++)
        {
            using ByteArrayContent content = new(body);
            content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
            using HttpResponseMessage answer = await RequestAsync(client, content, cancel);
            string text = await answer.Content.ReadAsStringAsync(cancel);
            if (answer.StatusCode is HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable && attempt < Attempts)
            {
                await Task.Delay(answer.Headers.RetryAfter?.Delta ?? TimeSpan.FromSeconds(attempt), cancel);
                continue;
            }

            return answer.IsSuccessStatusCode ? Receipt.Read(text)
                : answer.StatusCode == HttpStatusCode.UnprocessableEntity ? new Receipt(0, 0, pack.Count)
                : throw new VerbFailure(ExitCodes.Failed, Sentence(answer.StatusCode, text));
        }
    }

    private static async Task<HttpResponseMessage> RequestAsync(HttpClient client, HttpContent content, CancellationToken cancel)
    {
        try
        {
            return await client.PostAsync(new Uri("/api/v1/reports", UriKind.Relative), content, cancel);
        }
        catch (HttpRequestException failure)
        {
            throw new VerbFailure(ExitCodes.Failed, $"The server {client.BaseAddress} does not answer: {failure.Message.TrimEnd('.')}.");
        }
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

    private readonly record struct Receipt(long Accepted, long Repeated, long SetAside)
    {
        public static Receipt operator +(Receipt one, Receipt other) =>
            new(one.Accepted + other.Accepted, one.Repeated + other.Repeated, one.SetAside + other.SetAside);

        public static Receipt Read(string json)
        {
            using JsonDocument document = JsonDocument.Parse(json);
            return new Receipt(
                document.RootElement.GetProperty("accepted").GetInt64(),
                document.RootElement.GetProperty("repeated").GetInt64(),
                document.RootElement.GetProperty("setAside").GetArrayLength());
        }
    }
}
