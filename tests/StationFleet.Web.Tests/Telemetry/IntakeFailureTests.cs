using System.Net;
using System.Net.Http.Headers;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>A server that cannot store: each test breaks one of its own.</summary>
public sealed class IntakeFailureTests
{
    [Fact]
    public async Task A_full_disk_asks_to_wait_and_stores_nothing()
    {
        await using FleetApp app = FleetApp.OnAFullDisk();
        await app.InitializeAsync();
        Station station = await app.Databases.AddStationAsync("FULL-1");
        string key = await app.AddKeyAsync(station.Id);
        byte[] large = SenmlWriter.Write(station.Code, [.. Enumerable.Range(0, 10_000).Select(i => new Measurement("tank/fill", FleetApp.Start.AddMinutes(-i), 0.5))]);

        using HttpResponseMessage answer = await PostAsync(app, key, large);

        answer.StatusCode.Should().Be(HttpStatusCode.ServiceUnavailable);
        answer.Content.Headers.ContentType!.MediaType.Should().Be("application/problem+json");
        answer.Headers.RetryAfter!.Delta.Should().BeGreaterThan(TimeSpan.Zero);
        (await answer.Content.ReadAsStringAsync()).Should().Contain("disk is full");
        (await ScalarAsync(app, "SELECT count(*) FROM measurements")).Should().Be(0L);
        using HttpResponseMessage dry = await PostAsync(app, key, large, "/api/v1/reports/dry-run");
        dry.StatusCode.Should().Be(HttpStatusCode.ServiceUnavailable, "a dry run is answered as the real one would be");
    }

    [Fact]
    public async Task An_unforeseen_failure_is_told_as_a_problem_and_the_same_bytes_count_later()
    {
        await using FleetApp app = FleetApp.StartingAt(FleetApp.Start);
        await app.InitializeAsync();
        Station station = await app.Databases.AddStationAsync("FAIL-1");
        string key = await app.AddKeyAsync(station.Id);
        byte[] report = SenmlWriter.Write(station.Code, [new Measurement("tank/fill", FleetApp.Start, 0.5)]);
        using HttpResponseMessage before = await PostAsync(app, key, SenmlWriter.Write(station.Code, [new Measurement("tank/fill", FleetApp.Start.AddMinutes(-5), 0.5)]));
        await ScalarAsync(app, "ALTER TABLE measurements RENAME TO elsewhere");

        using HttpResponseMessage failed = await PostAsync(app, key, report);
        await ScalarAsync(app, "ALTER TABLE elsewhere RENAME TO measurements");
        using HttpResponseMessage again = await PostAsync(app, key, report);

        app.Get<ReportJournal>().Read(station.Id).Entries.Select(entry => entry.Answer.Status).Should().Equal(200, 500, 200);
        failed.StatusCode.Should().Be(HttpStatusCode.InternalServerError);
        failed.Content.Headers.ContentType!.MediaType.Should().Be("application/problem+json");
        (await failed.Content.ReadAsStringAsync()).Should().NotContain("Exception").And.Contain("Send the same bytes again");
        (await again.Content.ReadAsStringAsync()).Should().Be("""{"accepted":1,"repeated":0,"setAside":[]}""");
    }

    private static async Task<HttpResponseMessage> PostAsync(FleetApp app, string key, byte[] body, string path = "/api/v1/reports")
    {
        using HttpRequestMessage request = new(HttpMethod.Post, path) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/senml+json");
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return await app.Http.SendAsync(request);
    }

    private static async Task<object?> ScalarAsync(FleetApp app, string sql)
    {
        await using SqliteConnection connection = new(app.Get<FleetDatabase>().ConnectionString);
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is a test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        return await command.ExecuteScalarAsync();
    }
}
