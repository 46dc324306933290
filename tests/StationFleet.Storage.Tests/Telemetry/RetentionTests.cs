using StationFleet.Domain.Seasons;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry;

public sealed class RetentionTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private const string Vacuum = "tools/vacuum/uses";
    private const string Brush = "tools/brush/uses";

    private static readonly DateTimeOffset May1 = new(2026, 5, 1, 6, 0, 0, TimeSpan.Zero);   // 00:00 in Boise
    private static readonly DateTimeOffset June1 = May1.AddDays(31);
    private static readonly DateTimeOffset Now = May1.AddDays(120);
    private static readonly Season Season = new(2026, new DateOnly(2026, 5, 1), new DateOnly(2026, 10, 15));

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_purge_leaves_the_last_reading_of_each_series_and_every_figure_as_it_was()
    {
        Station station = await WatchedAsync("KEEP-1");
        IReadOnlyList<object> hours = await HoursAsync(station);
        SeasonFigures before = await SeasonAsync(station);
        long rows = Rows(station);

        RetentionOutcome outcome = await RunAsync(station, June1.AddHours(7));

        RetentionOutcome.Purged purged = outcome.Should().BeOfType<RetentionOutcome.Purged>().Subject;
        purged.UpTo.Should().Be(June1, "that is the last start of a local day before the limit");
        (rows - Rows(station)).Should().Be(purged.Rows).And.BeGreaterThan(5_000, "or it was one part only");
        Rows(station, June1).Should().Be(4, "one of each series is left of sealed time");
        (await HoursAsync(station)).Should().Equal(hours);
        (await SeasonAsync(station)).Should().BeEquivalentTo(before);
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty();
        (await RunAsync(station, June1.AddHours(7))).Should().BeOfType<RetentionOutcome.NothingToDo>("it is done");
    }

    [Fact]
    public async Task The_first_gain_after_sealed_time_is_the_same_as_if_nothing_were_purged()
    {
        Station purged = await WatchedAsync("GAIN-1", last: June1.AddHours(-2), resume: June1.AddHours(5));
        Station whole = await WatchedAsync("GAIN-2", last: June1.AddHours(-2), resume: June1.AddHours(5));

        // The last counter reading of sealed time is judged by the next uptime, which lies behind the seal.
        Measurement lastCount = new(Vacuum, June1.AddHours(-1.5), 1e5);
        await StoreAsync(Report(purged, lastCount));
        await StoreAsync(Report(whole, lastCount));
        file.Scalar("UPDATE watch_positions SET last_report_id = 1000000");
        (await RunAsync(purged, June1)).Should().BeOfType<RetentionOutcome.Purged>();

        // Late, but after the seal: a counter reading, and an uptime that judges it and the kept reading before it.
        Measurement[] late = [new(Vacuum, June1.AddHours(3), 1e6), new(MeasurementName.ControllerUptime, June1.AddHours(3.5), 600)];
        await StoreAsync(Report(purged, late));
        await StoreAsync(Report(whole, late));

        (await HoursAsync(purged)).Should().Equal(await HoursAsync(whole));
        (await new RollUpVerifier(file.Database).VerifyAsync(purged.Id, _cancel)).Should().BeEmpty();
    }

    [Fact]
    public async Task What_arrives_in_sealed_time_is_set_aside_and_the_kept_reading_counts_as_known()
    {
        Station station = await WatchedAsync("LATE-2");
        await RunAsync(station, June1);
        IReadOnlyList<object> hours = await HoursAsync(station);
        Measurement kept = (await file.Reader.RangeAsync(station.Id, [Vacuum], June1.AddDays(-1), June1, _cancel)).Single();

        ReportReceipt receipt = await StoreAsync(Report(
            station, new(Vacuum, June1.AddDays(-3).AddMinutes(1), 5), kept, new("soil/temp", June1.AddDays(-3), 4), new("soil/temp", June1.AddDays(3), 4)));

        (receipt.Accepted, receipt.Repeated).Should().Be((1, 1));
        receipt.SetAside.Should().HaveCount(2).And.AllSatisfy(record => record.Reason.Should().StartWith("This station's readings up to 2026-06-01T06:00:00Z are final"));
        (await HoursAsync(station)).Should().Equal(hours);
        (await file.Reader.NamesAsync(station.Id, _cancel)).Should().Contain("soil/temp");
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty();
    }

    [Fact]
    public async Task Sealed_hours_are_never_made_anew()
    {
        Station station = await WatchedAsync("FINAL-1");
        await RunAsync(station, June1);
        IReadOnlyList<object> hours = await HoursAsync(station);

        await file.Writer.RebuildAsync(station.Id, Created, null, _cancel);
        await file.Writer.RecountAsync(station.Id, MeasurementName.ToolOfUses(Vacuum)!, _cancel);

        (await HoursAsync(station)).Should().Equal(hours);
    }

    [Fact]
    public async Task Nothing_is_purged_while_a_roll_up_is_wrong()
    {
        Station station = await WatchedAsync("WRONG-1");
        long rows = Rows(station);
        file.Scalar($"UPDATE rollup_hours SET sum = sum + 1 WHERE hour_start = {May1.AddDays(3).ToUnixTimeMilliseconds()} AND series_id = {SeriesId(station, Vacuum)}");

        (await RunAsync(station, June1)).Should().BeOfType<RetentionOutcome.Differs>().Which.Differences.Should().NotBeEmpty();

        Rows(station).Should().Be(rows);
    }

    [Fact]
    public async Task Nothing_is_sealed_that_the_watch_has_not_taken_in()
    {
        Station station = await WatchedAsync("UNSEEN-1");
        await StoreAsync(Report(station, new Measurement("soil/temp", May1.AddDays(2), 4)));

        (await RunAsync(station, June1)).Should().BeOfType<RetentionOutcome.NothingToDo>();

        (await file.Reader.SealedUpToAsync(station.Id, _cancel)).Should().BeNull();
    }

    [Fact]
    public async Task The_days_that_the_watch_may_fold_anew_are_kept_whatever_the_limit()
    {
        Station station = await WatchedAsync("SHORT-1");

        RetentionOutcome outcome = await RunAsync(station, Now);

        outcome.Should().BeOfType<RetentionOutcome.Purged>().Which.UpTo.Should().BeOnOrBefore(Now - WatchEngine.FoldedAgainOnChange);
    }

    private Task<RetentionOutcome> RunAsync(Station station, DateTimeOffset keepFrom) =>
        new Retention(file, file.Database, file.Writer, file.Reader).RunAsync(station.Id, keepFrom, _cancel);

    // A station with counters, restarts and uptimes, and the checkpoints and position that the watch leaves.
    private async Task<Station> WatchedAsync(string code, DateTimeOffset? last = null, DateTimeOffset? resume = null)
    {
        Station station = await file.AddStationAsync(code);
        await file.AddPlacementAsync(station, await file.AddAccessAsync($"at-{code}"));
        await file.AddToolAsync(station, "vacuum");
        Random random = new(5);
        (double vacuum, double brush, DateTimeOffset boot) = (0, 0, May1);
        List<Measurement> measurements = [];
        for (DateTimeOffset at = May1.AddMinutes(15); at <= Now; at = at.AddMinutes(30 + random.Next(3)))
        {
            (vacuum, brush) = (vacuum + random.Next(4), brush + random.Next(2));
            (vacuum, boot) = random.Next(500) == 0 ? (0, at.AddMinutes(-2)) : (vacuum, boot);
            if (last is null || at <= last || at >= resume)
            {
                measurements.AddRange([
                    new(Vacuum, at, vacuum), new(Brush, at, brush), new("tank/fill", at, vacuum % 100 / 100),
                    new(MeasurementName.ControllerUptime, at, (at - boot).TotalSeconds),
                ]);
            }
        }

        long report = 0;
        foreach (Measurement[] part in measurements.Chunk(2000))
        {
            report = (await StoreAsync(Report(station, part))).ReportId;
        }

        await file.AddAsync(new WatchPosition { StationId = station.Id, LastReportId = report, EvaluatedTo = Now, State = "{}" });
        await file.WriteAsync(db => Task.Run(() => db.AddRange(Enumerable.Range(0, 120).Select(day => new WatchCheckpoint
        {
            StationId = station.Id, Day = new DateOnly(2026, 5, 1).AddDays(day), AsOf = May1.AddDays(day), State = "{}",
        }))), _cancel);
        return station;
    }

    private async Task<ReportReceipt> StoreAsync(ReportToStore report) =>
        (await file.Writer.WriteAsync(report, _cancel)).Should().BeOfType<WriteOutcome.Stored>().Subject.Receipt;

    private async Task<IReadOnlyList<object>> HoursAsync(Station station) =>
        [.. (await file.Reader.HoursAsync(station.Id, [Vacuum, Brush, "tank/fill"], May1.AddDays(-1), Now.AddDays(1), _cancel))
            .Select(hour => (object)(hour.Name, hour.RollUp.Key.Start, hour.RollUp.Key.Day, hour.RollUp.Figures))];

    private async Task<SeasonFigures> SeasonAsync(Station station) => SeasonSummary.Of(
        await new SeasonReader(file, new StationSetupReader(file), file.Reader).ReadAsync([station.Id], Season, Now, _cancel)).Fleet;

    private long SeriesId(Station station, string name) => (long)file.Scalar($"SELECT id FROM series WHERE station_id = {station.Id.Value} AND name = '{name}'")!;

    private long Rows(Station station, DateTimeOffset? upTo = null) => (long)file.Scalar(
        $"SELECT count(*) FROM measurements WHERE series_id IN (SELECT id FROM series WHERE station_id = {station.Id.Value}) AND at <= {(upTo ?? DateTimeOffset.MaxValue).ToUnixTimeMilliseconds()}")!;
}
