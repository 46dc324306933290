using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;
using static StationFleet.Web.Tests.Cli.SimulateVerbTests;

namespace StationFleet.Web.Tests.Cli;

public sealed class VerifyVerbTests
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 2, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task Verify_says_that_all_is_well_and_what_each_station_spans()
    {
        await using FleetFolder folder = await FilledAsync();

        (int code, string output, string error) = await StationFleetAsync("verify", "--data", folder.Path);

        (code, error).Should().Be((0, ""));
        output.Should().Be(
            """
            COP-1: 96 raw readings from 2026-07-02T18:15:00Z to 2026-07-03T18:00:00Z, roll-ups since 2026-07-02T18:00:00Z, nothing final.
            The file is sound, no reference is broken, and all 24 hours' roll-ups and their days are what the raw readings say, but for time that is final.

            """.ReplaceLineEndings());
    }

    [Fact]
    public async Task Verify_lists_the_hours_and_days_that_differ_and_answers_1()
    {
        await using FleetFolder folder = await FilledAsync();
        await RunAsync(folder, $"UPDATE rollup_hours SET sum = 99 WHERE hour_start = {Noon.AddHours(3).ToUnixTimeMilliseconds()}");

        (int code, string output, string error) = await StationFleetAsync("verify", "--data", folder.Path);

        code.Should().Be(1);
        error.Trim().Should().Be("0 faults of the file; 1 of the 24 hours' roll-ups or days are not what the raw readings say.");
        output.Should().Contain("COP-1 tank/fill, hour 2026-07-02T21:00:00Z: stored count 4 sum 99 ").And.Contain("by the raw readings count 4 sum 2 ");
    }

    [Fact]
    public async Task Verify_finds_a_reference_that_is_broken()
    {
        await using FleetFolder folder = await FilledAsync();
        await RunAsync(folder, "PRAGMA foreign_keys = OFF; DELETE FROM reports");

        (int code, string output, _) = await StationFleetAsync("verify", "--data", folder.Path);

        code.Should().Be(1);
        output.Should().Contain("A row of measurements refers to a row of reports that is not there.");
    }

    [Fact]
    public async Task Verify_answers_a_folder_without_a_database_with_2_and_a_file_that_is_none_with_1()
    {
        await using FleetFolder folder = await FleetFolder.MakeAsync();
        string empty = Directory.CreateDirectory(Path.Combine(folder.Path, "empty")).FullName;
        string broken = Directory.CreateDirectory(Path.Combine(folder.Path, "broken")).FullName;
        await File.WriteAllTextAsync(Path.Combine(broken, "fleet.db"), new string('x', 8192));

        (await StationFleetAsync("verify", "--data", empty)).Code.Should().Be(2);
        (await StationFleetAsync("verify", "--data", broken)).Code.Should().Be(1);
    }

    private static async Task<FleetFolder> FilledAsync()
    {
        FleetFolder folder = await FleetFolder.MakeAsync();
        await using MeasurementWriter writer = new(folder.Database);
        (await writer.WriteAsync(
            FleetBuilders.Report(folder.Station, [.. Enumerable.Range(1, 96).Select(i => new Measurement("tank/fill", Noon.AddMinutes(15 * i), 0.5))]),
            CancellationToken.None)).Should().BeOfType<WriteOutcome.Stored>();
        return folder;
    }

    private static async Task RunAsync(FleetFolder folder, string sql)
    {
        await using SqliteConnection connection = new(folder.Database.ConnectionString);
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is a test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync();
    }
}
