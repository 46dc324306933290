using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry;

public sealed class WriterUnderStressTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 8, 18, 0, 0, TimeSpan.Zero);

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_full_disk_is_told_and_leaves_nothing_half_written()
    {
        Station station = await file.AddStationAsync("FULL-1");
        long pages = (long)file.Scalar("PRAGMA page_count")!;
        FleetDatabase small = new(file.Database.Path) { WriterPragmas = $"PRAGMA max_page_count = {pages + 12};" };
        await using MeasurementWriter writer = new(small);
        ReportToStore large = Report(station, [.. Enumerable.Range(0, 20_000).Select(i => new Measurement("tank/fill", Noon.AddSeconds(i), i))]);
        ReportToStore little = Report(station, new Measurement("tank/fill", Noon.AddDays(1), 0.5));

        WriteOutcome full = await writer.WriteAsync(large, _cancel);
        WriteOutcome after = await writer.WriteAsync(little, _cancel);

        full.Should().Be(new WriteOutcome.DiskFull());
        after.Should().BeOfType<WriteOutcome.Stored>("what fits is still stored");
        file.Scalar("SELECT count(*) FROM measurements").Should().Be(1L);
        file.Scalar("SELECT count(*) FROM reports").Should().Be(1L);
        file.Scalar("PRAGMA integrity_check").Should().Be("ok");
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty();
    }

    [Fact]
    public async Task A_database_held_by_another_program_is_told_as_busy_and_a_full_queue_at_once()
    {
        Station station = await file.AddStationAsync("BUSY-1");
        using SqliteConnection other = new(file.Database.ConnectionString);
        other.Open();
        await using SqliteTransaction holding = other.BeginTransaction(deferred: false);

        Task<WriteOutcome> inHand = file.Writer.WriteAsync(Report(station, new Measurement("tank/fill", Noon.AddHours(1), 1)), _cancel);
        await Task.Delay(TimeSpan.FromMilliseconds(500), TimeProvider.System, _cancel); // by then the writer waits for the lock
        Task<WriteOutcome>[] writes = [.. Enumerable.Range(0, 600).Select(i =>
            file.Writer.WriteAsync(Report(station, new Measurement("tank/fill", Noon.AddSeconds(i), i)), _cancel))];
        int turnedAway = writes.Count(write => write.IsCompletedSuccessfully);
        WriteOutcome first = await inHand;
        await holding.RollbackAsync();
        WriteOutcome[] all = await Task.WhenAll(writes);

        turnedAway.Should().Be(600 - 256, "the queue holds 256, and one report is in the writer's hands");
        first.Should().BeOfType<WriteOutcome.Busy>().Which.RetryAfter.Should().BePositive();
        IReadOnlyList<Measurement> stored = await file.Reader.RangeAsync(station.Id, ["tank/fill"], Noon.AddDays(-1), Noon.AddDays(1), _cancel);
        stored.Should().HaveCount(all.OfType<WriteOutcome.Stored>().Count());
        (await file.Writer.WriteAsync(Report(station, new Measurement("tank/fill", Noon.AddHours(3), 1)), _cancel))
            .Should().BeOfType<WriteOutcome.Stored>("it goes on when the other has let go");
    }

    [Fact]
    public async Task Reports_people_and_readers_work_at_the_same_time()
    {
        Station station = await file.AddStationAsync("BOTH-1");
        await file.AddAsync(new Setting { Name = "test/edits", Value = "0" });

        Task reports = Task.Run(async () =>
        {
            for (int i = 0; i < 100; i++)
            {
                (await file.Writer.WriteAsync(
                    Report(station, [.. Enumerable.Range(0, 20).Select(j => new Measurement($"extra/{j}", Noon.AddMinutes(i), i))]), _cancel))
                    .Should().BeOfType<WriteOutcome.Stored>();
            }
        });
        Task people = Task.Run(async () =>
        {
            for (int i = 1; i <= 100; i++)
            {
                string value = i.ToString(null as IFormatProvider);
                await file.WriteAsync(async db => (await db.Settings.SingleAsync(s => s.Name == "test/edits")).Value = value, _cancel);
            }
        });
        Task pages = Task.Run(async () =>
        {
            while (!reports.IsCompleted)
            {
                IReadOnlyList<ReceivedReport> seen = await file.Reader.NewReportsAsync(station.Id, 0, 1000, _cancel);
                seen.All(report => report.Measurements.Count == 20).Should().BeTrue("a reader never sees half a report");
            }
        });
        await Task.WhenAll(reports, people, pages);

        (await file.Reader.NewReportsAsync(station.Id, 0, 1000, _cancel)).Should().HaveCount(100);
        await using FleetDbContext db = file.CreateDbContext();
        (await db.Settings.SingleAsync(s => s.Name == "test/edits")).Value.Should().Be("100");
    }

    [Fact]
    public async Task What_waits_when_the_writer_is_closed_is_written_first()
    {
        Station station = await file.AddStationAsync("CLOSE-1");
        MeasurementWriter writer = new(file.Database);

        Task<WriteOutcome>[] writes = [.. Enumerable.Range(0, 100).Select(i =>
            writer.WriteAsync(Report(station, new Measurement("tank/fill", Noon.AddMinutes(i), i)), _cancel))];
        await writer.DisposeAsync();

        (await Task.WhenAll(writes)).Should().AllBeOfType<WriteOutcome.Stored>();
    }

    [Theory]
    [InlineData(MeasurementReader.LatestSql)]
    [InlineData(MeasurementReader.RangeSql)]
    [InlineData(MeasurementReader.ReportSql)]
    public void Reading_a_station_seeks_and_never_scans_measurements(string sql)
    {
        using SqliteConnection connection = file.Database.OpenReader();
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is the test's own
        command.CommandText = "EXPLAIN QUERY PLAN " + sql;
#pragma warning restore CA2100
        List<string> plan = [];
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            plan.Add(reader.GetString(3));
        }

        plan.Should().Contain(step => step.StartsWith("SEARCH m USING PRIMARY KEY (series_id=? AND at", StringComparison.Ordinal));
        plan.Should().NotContain(step => step.StartsWith("SCAN m", StringComparison.Ordinal));
    }
}
