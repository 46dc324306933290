using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>The page for the person who programs a station, after reports by HTTP.</summary>
public sealed class ReportsPageTests(FleetApp app) : IntakeTest(app)
{
    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task The_first_line_says_whether_the_last_report_arrived_and_what_became_of_it()
    {
        (_, PlainBrowser browser) = await App.AddBrowserAsync($"technician {Station.Code}", FleetRoles.Technician);
        App.Clock.Advance(TimeSpan.FromSeconds(4));
        string taken = (await browser.GoAsync($"/stations/{Station.Code}/reports")).Words;
        using HttpResponseMessage wrongType = await SendAsync(new StringContent("x"));
        string refused = (await browser.GoAsync($"/stations/{Station.Code}/reports")).Words;
        using HttpResponseMessage wrongKey = await SendAsync(
            Pack(0.5), request => request.Headers.Authorization = new("Bearer", Key[..^1] + (Key[^1] == 'a' ? 'b' : 'a')));
        string keyless = (await browser.GoAsync($"/stations/{Station.Code}/reports")).Words;

        taken.Should().Contain("Your last report arrived 4 s ago and was taken: 2 new, 0 repeated.");
        refused.Should().Contain("Your last report arrived just now and was refused with 415: unknown media type.").And.Contain("text/plain");
        keyless.Should().Contain($"with the key {Key[..12]}…, which is not right after its head: it was refused with 401.").And.NotContain(Key[13..]);
    }

    [Fact]
    public async Task Each_record_is_shown_as_it_was_read()
    {
        using HttpResponseMessage answer = await PostAsync($$"""
            [{"bn":"{{Station.Code}}/","bt":{{Now}},"n":"tank/fill","u":"%","v":0.41},{"n":"tools/brush/uses","t":-1800,"u":"count","v":100},
             {"n":"battery/voltage","u":"A","v":12.7}]
            """);
        ReportRow row = (await ReadAsync())!.Reports[0];

        ReportDetail detail = (await App.Get<ReadReports>().OpenAsync(Viewers.Technician, Station.Code, row.Number, _cancel))!;

        (row.Status, row.Accepted, row.Repeated, row.SetAside).Should().Be((200, 1, 1, 1));
        detail.Records!.Select(record => (record.Series, record.Sent, record.Value, record.At, record.Fate)).Should().Equal(
            ("tank/fill", "0.41 %", 0.41, FleetApp.Start, RecordFate.New),
            ("tools/brush/uses", "100 count", 100.0, FleetApp.Start.AddMinutes(-30), RecordFate.Repeated),
            ("battery/voltage", "12.7 A", null, FleetApp.Start, RecordFate.SetAside));
        detail.Records![2].Reason.Should().Contain("does not fit");
        detail.Body.Should().StartWith("[{\"bn\"");
    }

    [Fact]
    public async Task Nobody_sees_the_reports_of_a_station_that_is_not_theirs()
    {
        Agency other = await App.Databases.AddAgencyAsync("Sorrel County Parks");
        long number = (await ReadAsync())!.Reports[0].Number;

        (await App.Get<ReadReports>().HandleAsync(Viewers.BiologistOf(other.Id), Station.Code, _cancel)).Should().BeNull();
        (await App.Get<ReadReports>().OpenAsync(Viewers.BiologistOf(other.Id), Station.Code, number, _cancel)).Should().BeNull();
        (await App.Get<TryPastedReport>().HandleAsync(Viewers.BiologistOf(other.Id), Station.Code, "[]", _cancel)).Should().BeNull();
    }

    [Fact]
    public async Task A_pasted_report_is_tried_and_not_stored()
    {
        AcceptReport.Outcome? good = await TryAsync(Pack(0.5));
        AcceptReport.Outcome? broken = await TryAsync("[{\"n\":");
        AcceptReport.Outcome? foreign = await TryAsync("""[{"bn":"OTT-1/","n":"a","v":1}]""");

        ReportTexts.Tried(good!).Should().Be("It would be taken with 200: 1 new, 0 repeated. Nothing was stored.");
        ReportTexts.Tried(broken!).Should().StartWith("It would be refused with 400. Record 0: The JSON is malformed");
        ReportTexts.Tried(foreign!).Should().StartWith("It would be refused with 403: the base name “OTT-1/”");
        (await StoredAsync("tank/fill")).Should().HaveCount(1);
    }

    private Task<ReportsView?> ReadAsync() => App.Get<ReadReports>().HandleAsync(Viewers.Technician, Station.Code, _cancel);

    private Task<AcceptReport.Outcome?> TryAsync(string text) => App.Get<TryPastedReport>().HandleAsync(Viewers.Technician, Station.Code, text, _cancel);
}
