using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>
/// The intake as a station controller sees it, over HTTP. Before each test one report of a station is stored; whatever is sent after
/// it, it must still be there.
/// </summary>
public abstract class IntakeTest(FleetApp app) : IClassFixture<FleetApp>, IAsyncLifetime
{
    protected FleetApp App { get; } = app;

    protected static readonly long Now = FleetApp.Start.ToUnixTimeSeconds();
    protected static readonly DateTimeOffset Before = FleetApp.Start.AddMinutes(-30);
    private static int _stations;

    protected Station Station { get; private set; } = null!;

    protected string Key { get; private set; } = "";

    public async Task InitializeAsync()
    {
        Station = await App.Databases.AddStationAsync($"T-{Interlocked.Increment(ref _stations)}");
        Key = await App.AddKeyAsync(Station.Id);
        using HttpResponseMessage stored = await PostAsync(
            $$"""[{"bn":"{{Station.Code}}/","bt":{{Before.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.25},{"n":"tools/brush/uses","u":"count","v":100}]""");
        stored.StatusCode.Should().Be(HttpStatusCode.OK);
    }

    public async Task DisposeAsync()
    {
        IReadOnlyList<Measurement> stored = await StoredAsync("tank/fill", "tools/brush/uses");
        stored.Should().Contain(new Measurement("tank/fill", Before, 0.25)).And.Contain(new Measurement("tools/brush/uses", Before, 100));
    }

    protected static async Task<JsonElement> JsonAsync(HttpResponseMessage answer)
    {
        using JsonDocument document = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        return document.RootElement.Clone();
    }

    protected static async Task<JsonElement> ReceiptAsync(HttpResponseMessage answer)
    {
        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        return await JsonAsync(answer);
    }

    protected static async Task<JsonElement> ShouldBeProblemAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        answer.StatusCode.Should().Be(status);
        answer.Content.Headers.ContentType!.MediaType.Should().Be("application/problem+json");
        JsonElement problem = await JsonAsync(answer);
        problem.GetProperty("status").GetInt32().Should().Be((int)status);
        problem.GetProperty("title").GetString().Should().NotBeEmpty();
        problem.GetProperty("detail").GetString().Should().NotBeEmpty();
        return problem;
    }

    protected string Pack(double fill) =>
        FormattableString.Invariant($$"""[{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":{{fill}}}]""");

    protected Task<HttpResponseMessage> PostAsync(string json) => SendAsync(json, null);

    protected Task<HttpResponseMessage> SendAsync(string json, Action<HttpRequestMessage>? change) =>
        SendAsync(new StringContent(json, Encoding.UTF8, "application/senml+json"), change);

    protected async Task<HttpResponseMessage> SendAsync(HttpContent content, Action<HttpRequestMessage>? change = null)
    {
        content.Headers.ContentType ??= content.Headers.NonValidated.Contains("Content-Type")
            ? null
            : new MediaTypeHeaderValue("application/senml+json");
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports") { Content = content };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", Key);
        change?.Invoke(request);
        return await App.Http.SendAsync(request);
    }

    protected Task<IReadOnlyList<Measurement>> StoredAsync(params string[] names) => App.Get<MeasurementReader>().RangeAsync(
        Station.Id, names, FleetApp.Start.AddDays(-1), FleetApp.Start.AddDays(30), CancellationToken.None);
}
