using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry;

public sealed class SetAsideTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 8, 18, 0, 0, TimeSpan.Zero);

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_station_keeps_the_newest_of_each_kind_and_counts_what_was_dropped()
    {
        Station station = await file.AddStationAsync("CAP-1");
        await StoreAsync(Aside(station, Noon, new SetAsideRecord(0, "Odd unit.", "unit", SetAsideKind.Unit)));

        for (int report = 0; report < 4; report++)
        {
            await StoreAsync(Aside(station, Noon.AddMinutes(report), [.. Enumerable.Range(0, 200).Select(i =>
                new SetAsideRecord(i, "Fast.", $"{report} {i}", SetAsideKind.FastClock))]));
        }

        IReadOnlyList<SetAsideGroup> groups = await file.SetAside.GroupsAsync([station.Id], _cancel);
        groups.Should().Equal(
            new SetAsideGroup(station.Id, SetAsideKind.FastClock, SetAsideChoice.MostOfAKind, Noon.AddMinutes(1), Noon.AddMinutes(3), 300),
            new SetAsideGroup(station.Id, SetAsideKind.Unit, 1, Noon, Noon, 0));
        IReadOnlyList<SetAsideRow> kept = await ListAsync(station, SetAsideKind.FastClock);
        (kept[0].Raw, kept[^1].Raw).Should().Be(("3 199", "1 100"), "the oldest were dropped");
    }

    [Fact]
    public async Task Records_tried_again_stop_waiting_when_they_count_and_get_their_present_reason_when_not()
    {
        Station station = await file.AddStationAsync("AGAIN-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.25)));
        await StoreAsync(Aside(
            station, Noon.AddHours(1), [.. Enumerable.Range(0, 3).Select(i => new SetAsideRecord(i, "Early.", $"{i}", SetAsideKind.BeforeStation))]));
        long[] rows = [.. (await ListAsync(station)).OrderBy(row => row.Index).Select(row => row.Id)];
        IndexedMeasurement At(int index, DateTimeOffset at, double value) => new(index, new Measurement("tank/fill", at, value), $"{index}");

        ReportReceipt receipt = await StoreAsync(
            new ReportToStore(station.Id, Noon.AddDays(9), [At(0, Noon.AddMinutes(5), 0.3), At(1, Noon, 0.25), At(2, Noon, 0.75)], []) { Source = ReportSource.Retry, TriedAgain = rows });

        (receipt.Accepted, receipt.Repeated, receipt.SetAside.Count).Should().Be((1, 1, 1));
        receipt.RepeatedIndices.Should().Equal(1);
        SetAsideRow left = (await ListAsync(station)).Should().ContainSingle().Subject;
        (left.Id, left.Kind, left.Received).Should().Be((rows[2], SetAsideKind.OtherValue, Noon.AddHours(1)));
        left.Reason.Should().Contain("0.25 is already known");
        (await file.Reader.LastHeardAsync(_cancel))[station.Id].Should().Be(Noon.AddHours(1), "the station itself said nothing");
        (await file.Reader.NewReportsAsync(station.Id, 0, 10, _cancel)).Select(report => report.Source)
            .Should().Equal(ReportSource.Station, ReportSource.Station, ReportSource.Retry);
        (await file.Reader.RangeAsync(station.Id, ["tank/fill"], Noon.AddDays(-1), Noon.AddDays(1), _cancel)).Should().HaveCount(2);
    }

    [Fact]
    public async Task Discarded_records_are_gone_with_their_count_of_dropped_ones_and_no_others()
    {
        Station station = await file.AddStationAsync("GONE-1");
        Station other = await file.AddStationAsync("GONE-2");
        await StoreAsync(Aside(station, Noon, [.. Enumerable.Range(0, 510).Select(i => new SetAsideRecord(i, "Fast.", $"{i}", SetAsideKind.FastClock))]));
        await StoreAsync(Aside(station, Noon, new SetAsideRecord(0, "Odd unit.", "a", SetAsideKind.Unit), new SetAsideRecord(1, "Odd unit.", "b", SetAsideKind.Unit)));
        await StoreAsync(Aside(other, Noon, new SetAsideRecord(0, "Fast.", "0", SetAsideKind.FastClock)));
        SetAsideRow one = (await ListAsync(station, SetAsideKind.Unit))[0];

        int kind = await file.Writer.DiscardAsync(new SetAsideChoice([station.Id], SetAsideKind.FastClock), _cancel);
        int single = await file.Writer.DiscardAsync(new SetAsideChoice([station.Id], Id: one.Id), _cancel);
        int foreign = await file.Writer.DiscardAsync(new SetAsideChoice([other.Id], Id: one.Id), _cancel);

        (kind, single, foreign).Should().Be((500, 1, 0));
        (await file.SetAside.GroupsAsync([station.Id, other.Id], _cancel)).Select(group => (group.Station, group.Kind, group.Count))
            .Should().BeEquivalentTo([(station.Id, SetAsideKind.Unit, 1), (other.Id, SetAsideKind.FastClock, 1)]);
        file.Scalar($"SELECT count(*) FROM set_aside_dropped WHERE station_id = {station.Id.Value}").Should().Be(0L);
    }

    [Fact]
    public async Task A_dry_run_gives_the_receipt_of_the_real_one_and_leaves_nothing()
    {
        Station station = await file.AddStationAsync("DRY-1");
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon, 0.25)));
        ReportToStore report = Report(
            station, new Measurement("tank/fill", Noon, 0.25), new Measurement("tank/fill", Noon.AddMinutes(5), 0.5), new Measurement("new/name", Noon, 1))
            with { SetAside = [new SetAsideRecord(9, "Odd.", "{}")] };
        object? before = file.Scalar(Everything);

        ReportReceipt dry = (await file.Writer.TryAsync(report, _cancel)).Should().BeOfType<WriteOutcome.Stored>().Subject.Receipt;
        object? after = file.Scalar(Everything);
        ReportReceipt real = await StoreAsync(report);

        after.Should().Be(before);
        dry.Should().BeEquivalentTo(real, "a later report gets the number that the dry run gave back");
        (real.Accepted, real.Repeated, real.SetAside.Count).Should().Be((2, 1, 1));
    }

    [Fact]
    public async Task What_a_report_told_of_its_clock_stays_with_it_when_its_records_are_thrown_away()
    {
        Station station = await file.AddStationAsync("CLOCK-1");
        await StoreAsync(Aside(station, Noon, new SetAsideRecord(0, "Fast.", "0", SetAsideKind.FastClock)) with { ClockOff = TimeSpan.FromHours(2) });
        await file.Writer.DiscardAsync(new SetAsideChoice([station.Id]), _cancel);
        await StoreAsync(Report(station, new Measurement("tank/fill", Noon.AddMinutes(30), 0.25)));

        IReadOnlyList<ReceivedReport> reports = await file.Reader.NewReportsAsync(station.Id, 0, 10, _cancel);

        reports.Select(report => report.ClockOff).Should().Equal(TimeSpan.FromHours(2), null);
    }

    private const string Everything = """
        SELECT (SELECT count(*) FROM measurements) || ' ' || (SELECT count(*) FROM reports) || ' ' || (SELECT count(*) FROM series) || ' '
        || (SELECT count(*) FROM set_aside) || ' ' || (SELECT count(*) FROM rollup_hours) || ' ' || (SELECT max(at) FROM last_heard)
        """;

    private static ReportToStore Aside(Station station, DateTimeOffset received, params IReadOnlyList<SetAsideRecord> records) =>
        new(station.Id, received, [], records);

    private Task<IReadOnlyList<SetAsideRow>> ListAsync(Station station, SetAsideKind? kind = null) =>
        file.SetAside.ListAsync(new SetAsideChoice([station.Id], kind), 10_000, _cancel);

    private async Task<ReportReceipt> StoreAsync(ReportToStore report) =>
        (await file.Writer.WriteAsync(report, _cancel)).Should().BeOfType<WriteOutcome.Stored>().Subject.Receipt;
}
