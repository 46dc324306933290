using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>What would become of a report, told without storing anything.</summary>
public sealed class DryRunTests(FleetApp app) : IntakeTest(app)
{
    [Fact]
    public async Task Each_record_is_told_as_it_would_be_stored_and_nothing_is_stored()
    {
        string pack = $$"""
            [{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"%","v":0.41},{"n":"tank/fill","t":-1800,"u":"/","v":0.25},
             {"n":"tools/brush/uses","t":-1800,"u":"count","v":7},{"n":"wind/speed","u":"m/s","v":3},{"n":"battery/voltage","u":"A","v":12.7}]
            """;

        using HttpResponseMessage answer = await DryRunAsync(pack);

        JsonElement receipt = await ReceiptAsync(answer);
        (receipt.GetProperty("accepted").GetInt32(), receipt.GetProperty("repeated").GetInt32(), receipt.GetProperty("setAside").GetArrayLength())
            .Should().Be((2, 1, 2));
        JsonElement[] records = [.. receipt.GetProperty("records").EnumerateArray()];
        records.Select(record => record.GetProperty("outcome").GetString()).Should().Equal("new", "repeated", "set aside", "new", "set aside");
        records.Select(record => record.GetProperty("series").GetString())
            .Should().Equal("tank/fill", "tank/fill", "tools/brush/uses", "wind/speed", "battery/voltage");
        JsonElement first = records[0];
        first.GetProperty("name").GetString().Should().Be($"{Station.Code}/tank/fill");
        first.GetProperty("unit").GetString().Should().Be("/");
        first.GetProperty("value").GetDouble().Should().Be(0.41);
        first.GetProperty("time").GetDecimal().Should().Be(Now);
        first.GetProperty("at").GetDateTimeOffset().Should().Be(FleetApp.Start);
        first.GetProperty("meaning").GetString().Should().Be("share of the waste tank that is full: 41 %");
        records[2].GetProperty("reason").GetString().Should().Contain("100 is already known");
        records[3].GetProperty("meaning").GetString().Should().Contain("not in the table");
        records[4].GetProperty("reason").GetString().Should().Contain("does not fit battery/voltage");
        (await StoredAsync("tank/fill", "wind/speed")).Should().HaveCount(1);
        (await App.Get<MeasurementReader>().NamesAsync(Station.Id, CancellationToken.None)).Should().Equal("tank/fill", "tools/brush/uses");
        (await App.Get<SetAsideReader>().GroupsAsync([Station.Id], CancellationToken.None)).Should().BeEmpty();
        App.Get<ReportJournal>().Read(Station.Id).Entries.Should().ContainSingle("the report that the test began with, and no dry run");
    }

    [Fact]
    public async Task What_a_dry_run_tells_is_what_the_report_then_gets()
    {
        string pack = $$"""[{"bt":{{Now}},"n":"tank/fill","u":"m","v":0.41},{"n":"battery/charge","u":"%EL","v":98},{"n":"label","vs":"x"}]""";

        JsonElement dry = await ReceiptAsync(await DryRunAsync(pack));
        JsonElement real = await ReceiptAsync(await PostAsync(pack));

        foreach (string part in (string[])["accepted", "repeated", "setAside"])
        {
            dry.GetProperty(part).GetRawText().Should().Be(real.GetProperty(part).GetRawText());
        }
    }

    [Fact]
    public async Task A_pack_of_which_nothing_would_count_is_422_and_is_not_kept()
    {
        using HttpResponseMessage answer = await DryRunAsync($$"""[{"n":"tank/fill","t":{{Now + 86400}},"u":"/","v":0.41}]""");

        JsonElement problem = await ShouldBeProblemAsync(answer, HttpStatusCode.UnprocessableEntity);
        problem.GetProperty("detail").GetString().Should().Contain("dry run").And.NotContain("kept");
        problem.GetProperty("records")[0].GetProperty("at").GetDateTimeOffset().Should().Be(FleetApp.Start.AddDays(1));
        problem.GetProperty("records")[0].GetProperty("value").ValueKind.Should().Be(JsonValueKind.Null);
        (await App.Get<SetAsideReader>().GroupsAsync([Station.Id], CancellationToken.None)).Should().BeEmpty();
    }

    [Theory]
    [InlineData("[", "application/json", HttpStatusCode.BadRequest)]
    [InlineData("""[{"bn":"OTT-1/","n":"a","v":1}]""", "application/json", HttpStatusCode.Forbidden)]
    [InlineData("[]", "text/plain", HttpStatusCode.UnsupportedMediaType)]
    public async Task A_dry_run_is_refused_as_the_report_would_be(string body, string type, HttpStatusCode status)
    {
        using HttpResponseMessage answer = await DryRunAsync(body, type);

        await ShouldBeProblemAsync(answer, status);
    }

    [Fact]
    public async Task A_dry_run_needs_a_key()
    {
        using HttpResponseMessage answer = await App.Http.PostAsync("/api/v1/reports/dry-run", new StringContent("[]", Encoding.UTF8, "application/json"));

        await ShouldBeProblemAsync(answer, HttpStatusCode.Unauthorized);
        answer.Headers.WwwAuthenticate.Should().ContainSingle();
    }

    private Task<HttpResponseMessage> DryRunAsync(string json, string type = "application/senml+json") => SendAsync(
        new StringContent(json, Encoding.UTF8, new MediaTypeHeaderValue(type)),
        request => request.RequestUri = new Uri("/api/v1/reports/dry-run", UriKind.Relative));
}
