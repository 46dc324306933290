using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>What becomes of reports, good and bad.</summary>
public sealed class IntakeTests(FleetApp app) : IntakeTest(app)
{
    [Fact]
    public async Task A_report_is_stored_and_answered_with_what_became_of_each_record()
    {
        using HttpResponseMessage answer = await PostAsync($$"""
            [{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":0.41},{"n":"battery/charge","u":"%EL","v":98},
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
    public async Task An_unknownKey_is_refused(string? authorization)
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
    public async Task AKey_with_a_right_head_and_a_wrong_secret_is_refused()
    {
        string wrong = Key[..^1] + (Key[^1] == 'a' ? 'b' : 'a');

        using HttpResponseMessage answer = await SendAsync(
            Pack(0.9), request => request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", wrong));

        await ShouldBeProblemAsync(answer, HttpStatusCode.Unauthorized);
        answer.Headers.WwwAuthenticate.ToString().Should().Contain("invalid_token");
    }

    [Fact]
    public async Task Another_stations_base_name_is_refused_as_a_whole()
    {
        using HttpResponseMessage answer = await PostAsync(
            $$"""[{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"/","v":0.9},{"bn":"OTT-1/","n":"tank/fill","u":"/","v":0.9}]""");

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
        App.Clock.Advance(TimeSpan.FromSeconds(1));
        DateTimeOffset heard = App.Clock.GetUtcNow();

        using HttpResponseMessage answer = await PostAsync($$"""[{"n":"tank/fill","t":{{time}},"u":"/","v":0.9}]""");

        JsonElement problem = await ShouldBeProblemAsync(answer, HttpStatusCode.UnprocessableEntity);
        problem.GetProperty("errors")[0].GetProperty("detail").GetString().Should().Contain("clock").And.Contain(reason);
        (await App.Get<MeasurementReader>().LastHeardAsync(CancellationToken.None))[Station.Id].Should().Be(heard);
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
                $$"""[{"bn":"{{Station.Code}}/","bt":{{Now + minute * 60}},"n":"tank/fill","u":"/","v":0.5}]""");
            (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(1);
        }

        (await StoredAsync("tank/fill")).Select(measurement => measurement.At).Should().Equal(
            Before, FleetApp.Start.AddMinutes(-20), FleetApp.Start.AddMinutes(-15), FleetApp.Start.AddMinutes(-10), FleetApp.Start.AddMinutes(-5));
    }

    [Fact]
    public async Task A_counter_that_restarts_is_stored_as_sent()
    {
        using HttpResponseMessage answer = await PostAsync($$"""
            [{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tools/brush/uses","t":-600,"u":"count","v":104},
             {"n":"tools/brush/uses","u":"count","v":2},{"n":"controller/uptime","u":"s","v":240}]
            """);

        (await ReceiptAsync(answer)).GetProperty("accepted").GetInt32().Should().Be(3);
        (await StoredAsync("tools/brush/uses")).Select(measurement => measurement.Value).Should().Equal(100, 104, 2);
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
        (await App.Get<SetAsideReader>().ListAsync(new SetAsideChoice([Station.Id]), 100, CancellationToken.None)).Should().HaveCount(2);
    }

    [Fact]
    public async Task The_time_is_told_to_anybody()
    {
        using HttpResponseMessage answer = await App.Http.GetAsync("/api/v1/time");

        answer.StatusCode.Should().Be(HttpStatusCode.OK);
        answer.Headers.CacheControl!.NoStore.Should().BeTrue();
        JsonElement time = await JsonAsync(answer);
        DateTimeOffset now = App.Clock.GetUtcNow();
        time.GetProperty("time").GetDecimal().Should().Be(now.ToUnixTimeMilliseconds() / 1000m);
        time.GetProperty("iso").GetDateTimeOffset().Should().Be(now);
    }
}
