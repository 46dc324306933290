using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry;

public sealed class MeasurementWriterTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 8, 18, 0, 0, TimeSpan.Zero);

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_report_sent_twice_is_stored_once()
    {
        Station station = await file.AddStationAsync("TWICE-1");
        ReportToStore report = Report(station, new Measurement("tank/fill", Noon, 0.25), new Measurement("battery/voltage", Noon, 12.6));

        ReportReceipt first = await StoreAsync(report);
        ReportReceipt second = await StoreAsync(report with { Received = Noon.AddMinutes(1) });

        (first.Accepted, first.Repeated).Should().Be((2, 0));
        (second.Accepted, second.Repeated).Should().Be((0, 2));
        second.ReportId.Should().BeGreaterThan(first.ReportId);
        (await RawAsync(station, "tank/fill")).Should().Equal(new Measurement("tank/fill", Noon, 0.25));
    }

    [Fact]
    public async Task Another_value_for_a_known_time_is_set_aside_and_the_first_stays()
    {
        Station station = await file.AddStationAsync("OTHER-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.25)));

        ReportReceipt receipt = await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.5)));

        receipt.Accepted.Should().Be(0);
        receipt.SetAside.Should().ContainSingle().Which.Reason.Should()
            .Be("The value 0.25 is already known for tank/fill at this time; the first one stays.");
        (await RawAsync(station, "tank/fill")).Should().Equal(new Measurement("tank/fill", Noon, 0.25));
    }

    [Fact]
    public async Task A_record_set_aside_is_kept_once_however_often_it_comes()
    {
        Station station = await file.AddStationAsync("ASIDE-1");
        ReportToStore report = new(station.Id, Noon, [], [new SetAsideRecord(3, "Too far ahead.", "{\"n\":\"tank/fill\"}")]);

        await StoreAsync(report);
        ReportReceipt second = await StoreAsync(report with { Received = Noon.AddMinutes(5) });

        second.SetAside.Should().ContainSingle("the sender is told each time").Which.Index.Should().Be(3);
        SetAsideRow row = (await file.SetAside.ListAsync(new SetAsideChoice([station.Id]), 10, _cancel)).Should().ContainSingle().Subject;
        (row.Reason, row.Raw, row.Received).Should().Be(("Too far ahead.", "{\"n\":\"tank/fill\"}", Noon));
        (row.Times, row.LastReceived).Should().Be((2, Noon.AddMinutes(5)));
    }

    [Fact]
    public async Task A_station_counts_as_heard_even_if_every_record_was_set_aside()
    {
        Station station = await file.AddStationAsync("HEARD-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.25)));

        await StoreAsync(new ReportToStore(station.Id, Noon.AddHours(1), [], [new SetAsideRecord(0, "Odd.", "{}")]));

        (await file.Reader.LastHeardAsync(_cancel))[station.Id].Should().Be(Noon.AddHours(1));
    }

    [Fact]
    public async Task A_report_of_the_past_is_known_from_the_start_and_never_new()
    {
        Station station = await file.AddStationAsync("PAST-1");
        ReportReceipt present = await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.25)));

        ReportReceipt past = await StoreAsync(Report(station, new Measurement("tank/fill", Noon.AddDays(-300), 0.5)) with { PastId = -7 });
        ReportReceipt next = await StoreAsync(Report(station, new Measurement("tank/fill", Noon.AddMinutes(15), 0.3)));

        past.ReportId.Should().Be(-7);
        next.ReportId.Should().BeGreaterThan(present.ReportId);
        (await file.Reader.NewReportsAsync(station.Id, 0, 10, _cancel)).Select(report => report.Id).Should().Equal(present.ReportId, next.ReportId);
        (await file.Reader.KnownSinceAsync(station.Id, Noon.AddDays(-400), present.ReportId, _cancel)).Should().HaveCount(2);
    }

    [Fact]
    public async Task The_sixty_fifth_series_is_set_aside()
    {
        Station station = await file.AddStationAsync("MANY-1");
        Measurement[] measurements = [.. Enumerable.Range(1, 65).Select(i => new Measurement($"extra/{i:00}", Noon, i))];

        ReportReceipt receipt = await StoreAsync(Report(station, measurements));

        receipt.Accepted.Should().Be(64);
        receipt.SetAside.Should().ContainSingle().Which.Reason.Should()
            .Be("The station already has 64 series, the most it may have; extra/65 would be one more.");
    }

    [Fact]
    public async Task A_report_that_cannot_be_stored_fails_alone()
    {
        Station station = await file.AddStationAsync("ALONE-1");
        ReportToStore[] reports =
        [
            Report(station, new Measurement("new/series", Noon, 1)),
            Report(station, new Measurement("new/other", Noon, 1), new Measurement("new/broken", Noon, double.NaN)),
            new(new StationId(999_999), Noon, [], []),
            Report(station, new Measurement("new/series", Noon.AddMinutes(5), 2), new Measurement("new/other", Noon.AddMinutes(5), 2)),
        ];

        Task<WriteOutcome>[] writes = [.. reports.Select(report => file.Writer.WriteAsync(report, _cancel))];
        await Task.WhenAll(writes.Select(write => write.ContinueWith(_ => { }, TaskScheduler.Default)));

        writes[1].Exception!.InnerException.Should().BeOfType<SqliteException>("SQLite holds no NaN");
        writes[2].Exception!.InnerException.Should().BeOfType<InvalidOperationException>("there is no such station");
        (await writes[0]).Should().BeOfType<WriteOutcome.Stored>();
        (await writes[3]).Should().BeOfType<WriteOutcome.Stored>();
        (await RawAsync(station, "new/series")).Should().HaveCount(2);
        (await RawAsync(station, "new/other")).Should().ContainSingle("the broken report left nothing").Which.Value.Should().Be(2);
        (await new RollUpVerifier(file.Database).VerifyAsync(null, _cancel)).Should().BeEmpty();
    }

    [Fact]
    public async Task Reports_that_arrive_together_are_all_answered_and_all_stored()
    {
        Station station = await file.AddStationAsync("CROWD-1");

        WriteOutcome[] outcomes = await Task.WhenAll(Enumerable.Range(0, 200).Select(i => file.Writer.WriteAsync(
            Report(station, new Measurement("tank/fill", Noon.AddMinutes(i), i / 1000d)), _cancel)));

        outcomes.Should().AllBeOfType<WriteOutcome.Stored>();
        (await RawAsync(station, "tank/fill")).Should().HaveCount(200);
    }

    [Fact]
    public async Task New_reports_come_in_the_order_of_arrival_with_what_was_new_in_each()
    {
        Station station = await file.AddStationAsync("ORDER-1");
        Measurement late = new("tank/fill", Noon.AddHours(-3), 0.1);
        Measurement now = new("tank/fill", Noon, 0.3);
        ReportReceipt first = await StoreAsync(Report(station, now));
        ReportReceipt second = await StoreAsync(ReportReceivedAt(station, Noon.AddHours(1), now, late));

        IReadOnlyList<ReceivedReport> all = await file.Reader.NewReportsAsync(station.Id, 0, 10, _cancel);
        IReadOnlyList<ReceivedReport> later = await file.Reader.NewReportsAsync(station.Id, first.ReportId, 10, _cancel);

        all.Select(report => report.Id).Should().Equal(first.ReportId, second.ReportId);
        later.Should().ContainSingle().Which.Measurements.Should().Equal(late);
        later[0].Received.Should().Be(Noon.AddHours(1));
        (await file.Reader.KnownSinceAsync(station.Id, Noon.AddDays(-1), first.ReportId, _cancel)).Should().Equal(now);
        (await file.Reader.KnownSinceAsync(station.Id, Noon.AddDays(-1), second.ReportId, _cancel)).Should().Equal(late, now);
        (await file.Reader.KnownSinceAsync(station.Id, Noon, second.ReportId, _cancel)).Should().Equal(now);
    }

    [Fact]
    public async Task The_latest_value_of_each_series_is_the_one_measured_last_not_the_one_received_last()
    {
        Station station = await file.AddStationAsync("LATEST-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.3), new Measurement("battery/voltage", Noon.AddHours(-2), 12.1)));
        await StoreAsync(ReportReceivedAt(station, Noon.AddHours(1), new Measurement("tank/fill", Noon.AddHours(-1), 0.2)));

        (await file.Reader.LatestAsync(station.Id, _cancel)).Should().Equal(
            new LatestValue("battery/voltage", Noon.AddHours(-2), 12.1), new LatestValue("tank/fill", Noon, 0.3));
    }

    [Fact]
    public async Task Recent_reports_tell_what_became_of_each()
    {
        Station station = await file.AddStationAsync("RECENT-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.3)));
        await StoreAsync(ReportReceivedAt(station, Noon.AddHours(1), new Measurement("tank/fill", Noon, 0.3), new Measurement("tank/fill", Noon, 0.4)));

        IReadOnlyList<ReportSummary> recent = await file.Reader.RecentReportsAsync(station.Id, 10, _cancel);

        recent.Select(row => (row.Accepted, row.Repeated, row.SetAside)).Should().Equal((0, 1, 1), (1, 0, 0));
        recent.Select(row => row.NewestAt).Should().Equal(null, Noon);
    }

    private async Task<ReportReceipt> StoreAsync(ReportToStore report) =>
        (await file.Writer.WriteAsync(report, _cancel)).Should().BeOfType<WriteOutcome.Stored>().Subject.Receipt;

    private Task<IReadOnlyList<Measurement>> RawAsync(Station station, string name) =>
        file.Reader.RangeAsync(station.Id, [name], Noon.AddDays(-2), Noon.AddDays(2), _cancel);
}
