using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>What docs/intake-api.md shows is sent as it stands there and must be answered as it says.</summary>
public sealed partial class IntakeDocumentTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static readonly string Document = File.ReadAllText(Repository.PathOf("docs/intake-api.md"));

    [Fact]
    public async Task Each_report_of_the_document_is_answered_as_the_document_says()
    {
        Station station = await app.Databases.AddStationAsync("COP-1");
        string key = await app.AddKeyAsync(station.Id);
        MatchCollection examples = Examples().Matches(Document);
        examples.Count.Should().BeGreaterThanOrEqualTo(6);
        examples.Should().Contain(example => example.Groups["kind"].Value == "dry-run");

        foreach (Match example in examples)
        {
            using HttpResponseMessage answer = await PostAsync(
                example.Groups["report"].Value, key, example.Groups["kind"].Value == "dry-run" ? "/api/v1/reports/dry-run" : "/api/v1/reports");

            string status = example.Groups["status"].Value;
            ((int)answer.StatusCode).Should().Be(status.Length == 0 ? 200 : int.Parse(status, CultureInfo.InvariantCulture));
            JsonNode? expected = JsonNode.Parse(example.Groups["answer"].Value);
            JsonNode? actual = JsonNode.Parse(await answer.Content.ReadAsStringAsync());
            (actual as JsonObject)?.Remove("traceId");
            JsonNode.DeepEquals(actual, expected).Should().BeTrue($"{example.Groups["report"].Value} was answered {actual}");
        }

        using HttpResponseMessage fromTheCommand = await PostAsync(CommandBody().Match(Document).Groups["body"].Value, key);
        (await fromTheCommand.Content.ReadAsStringAsync()).Should().Be("""{"accepted":1,"repeated":0,"setAside":[]}""");
    }

    [Fact]
    public async Task The_time_is_told_as_the_document_says()
    {
        string answer = await app.Http.GetStringAsync("/api/v1/time");

        answer.Should().Be(TimeExample().Match(Document).Groups["answer"].Value.Trim());
    }

    [Fact]
    public void The_table_of_the_document_is_the_table_of_the_reader()
    {
        IEnumerable<string> rows = MeasurementTable.All.Select(known =>
            $"| `{known.Pattern}` | `{known.Unit}` |{Units(known, secondary: false)} |{Units(known, secondary: true)} |{Range(known)} |");

        foreach (string row in rows)
        {
            Document.Should().Contain(row + "\n");
        }

        TableRows().Count(Document).Should().Be(MeasurementTable.All.Count);
    }

    private static string Units(KnownName known, bool secondary) =>
        string.Concat(known.Others.Where(other => other.IsSecondary == secondary).Select(other => $" `{other.Symbol}`"));

    private static string Range(KnownName known) => (double.IsFinite(known.Least), double.IsFinite(known.Most)) switch
    {
        (true, true) => FormattableString.Invariant($" {known.Least} to {known.Most}"),
        (true, false) => FormattableString.Invariant($" at least {known.Least}"),
        _ => "",
    };

    private async Task<HttpResponseMessage> PostAsync(string body, string key, string path = "/api/v1/reports")
    {
        using HttpRequestMessage request = new(HttpMethod.Post, path)
        {
            Content = new StringContent(body, Encoding.UTF8, "application/senml+json"),
        };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return await app.Http.SendAsync(request);
    }

    [GeneratedRegex("""```json (?<kind>report|dry-run)\n(?<report>.*?)```\s+```json answer ?(?<status>\d*)\n(?<answer>.*?)```""", RegexOptions.Singleline)]
    private static partial Regex Examples();

    [GeneratedRegex("""```json time\n(?<answer>.*?)```""", RegexOptions.Singleline)]
    private static partial Regex TimeExample();

    [GeneratedRegex("""--data '(?<body>[^']*)'""")]
    private static partial Regex CommandBody();

    [GeneratedRegex("""^\| `[a-z{}/-]+` \| `[^`]+` \|.*\|.*\|.*\|$""", RegexOptions.Multiline)]
    private static partial Regex TableRows();
}
