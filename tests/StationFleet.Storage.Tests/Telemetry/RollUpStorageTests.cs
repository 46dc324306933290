using CsCheck;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using static StationFleet.Testing.FleetBuilders;

namespace StationFleet.Storage.Tests.Telemetry;

public sealed class RollUpStorageTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private const string Uses = "tools/vacuum/uses";

    // 8 July 2026, 00:00 in Boise.
    private static readonly DateTimeOffset Midnight = new(2026, 7, 8, 6, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Day = new(2026, 7, 8);

    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task A_late_reading_remakes_its_own_hour_and_that_of_the_reading_after_it()
    {
        Station station = await PlacedAsync("LATE-1");
        await StoreAsync(Uses_(station, (5, 10), (125, 22)));
        (await HoursAsync(station)).Select(Counted).Should().Equal((0, 0, 0), (0, 12, 0));

        await StoreAsync(Uses_(station, (120, 20), (10, 11)));

        (await HoursAsync(station)).Select(Counted).Should().Equal((1, 0, 0), (0, 9, 0), (2, 0, 0));
        (await DaysAsync(station)).Single().RollUp.Figures.Known.Should().Be(12);
        await VerifyAsync(station);
    }

    [Fact]
    public async Task An_uptime_that_arrives_late_turns_a_gain_into_an_uncertain_one()
    {
        Station station = await PlacedAsync("UPTIME-1");
        await StoreAsync(Uses_(station, (5, 3), (65, 5)));
        (await HoursAsync(station)).Sum(hour => hour.RollUp.Figures.Uncertain).Should().Be(0);

        await StoreAsync(Report(station, new Measurement(MeasurementName.ControllerUptime, Midnight.AddMinutes(70), 1800)));

        RollUpFigures figures = (await HoursAsync(station))[^1].RollUp.Figures;
        (figures.AcrossHours, figures.Uncertain).Should().Be((5, 1));
        (await DaysAsync(station)).Single().RollUp.Figures.Uncertain.Should().Be(1);
        await VerifyAsync(station);
    }

    [Fact]
    public async Task An_earlier_uptime_that_arrives_late_takes_back_a_judgement()
    {
        Station station = await PlacedAsync("UPTIME-2");
        await StoreAsync(Uses_(station, (5, 3), (65, 5)));
        await StoreAsync(Report(station, new Measurement(MeasurementName.ControllerUptime, Midnight.AddMinutes(70), 1800)));

        await StoreAsync(Report(station, new Measurement(MeasurementName.ControllerUptime, Midnight.AddMinutes(66), 86400)));

        (await HoursAsync(station)).Sum(hour => hour.RollUp.Figures.Uncertain).Should().Be(0);
        await VerifyAsync(station);
    }

    [Fact]
    public async Task A_declared_width_makes_a_fall_a_wrap()
    {
        Station station = await PlacedAsync("WRAP-1");
        await StoreAsync(Uses_(station, (5, 65_530), (10, 4)));
        (await HoursAsync(station)).Single().RollUp.Figures.Uncertain.Should().Be(1);

        await file.AddAsync(new Tool
        {
            StationId = station.Id, Slug = MeasurementName.ToolOfUses(Uses)!, Name = "Vacuum", Installed = Created, UsesWrapAt = 65_536,
        });
        await file.Writer.RecountAsync(station.Id, MeasurementName.ToolOfUses(Uses)!, _cancel);

        (await HoursAsync(station)).Select(Counted).Should().Equal((10, 0, 0));
        (await DaysAsync(station)).Single().RollUp.Figures.Uncertain.Should().Be(0);
        await StoreAsync(Uses_(station, (15, 5)));
        (await HoursAsync(station)).Select(Counted).Should().Equal((11, 0, 0));
        await VerifyAsync(station);
    }

    [Fact]
    public async Task Roll_ups_that_a_killed_writer_had_put_off_are_caught_up_at_the_next_start()
    {
        Station station = await PlacedAsync("KILLED-1");
        await StoreAsync(Uses_(station, (5, 3), (65, 5)));
        long written = (long)file.Scalar("SELECT report_id FROM rolled_up")!;
        await StoreAsync(Uses_(station, (70, 7), (130, 12), (1500, 20)));

        // As if the process had died between the commit of the second report and the writing of its roll-ups.
        string series = $"(SELECT id FROM series WHERE station_id = {station.Id.Value})";
        file.Scalar($"DELETE FROM rollup_hours WHERE series_id IN {series} AND hour_start > {Midnight.ToUnixTimeMilliseconds()}");
        file.Scalar($"DELETE FROM rollup_days WHERE series_id IN {series}");
        file.Scalar($"UPDATE rolled_up SET report_id = {written}");
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().NotBeEmpty();
        await using MeasurementWriter next = new(file.Database);

        await VerifyAsync(station);
    }

    [Fact]
    public async Task Moving_a_placement_s_start_moves_its_hours_and_days()
    {
        Station station = await file.AddStationAsync("MOVE-1", isPortable: true);
        Access ramp = await file.AddAccessAsync("marina-ramp");
        Placement placement = await file.AddPlacementAsync(station, ramp, Midnight.AddHours(6));
        await StoreAsync(Uses_(station, [.. Enumerable.Range(0, 24).Select(hour => ((hour * 60) + 30, (double)hour))]));
        (await HoursAsync(station)).Count(hour => hour.RollUp.Key.Placement == placement.Id).Should().Be(18);

        await file.WriteAsync(db => Move(db, placement.Id, Midnight.AddMinutes(150)), _cancel);
        await file.Writer.RebuildAsync(station.Id, Midnight.AddMinutes(150), Midnight.AddHours(6), _cancel);

        (await HoursAsync(station)).Count(hour => hour.RollUp.Key.Placement == placement.Id).Should().Be(21);
        await VerifyAsync(station);

        static async Task Move(FleetDbContext db, PlacementId id, DateTimeOffset from) => (await db.Placements.FindAsync(id))!.From = from;
    }

    [Fact]
    public async Task Another_time_zone_of_an_access_makes_other_days()
    {
        Station station = await file.AddStationAsync("ZONE-1");
        Access access = await file.AddAccessAsync("zone-access", "UTC");
        await file.AddPlacementAsync(station, access);
        await StoreAsync(Uses_(station, [.. Enumerable.Range(0, 48).Select(hour => ((hour * 60) + 30, (double)hour))]));
        (await DaysAsync(station)).Should().HaveCount(3, "it began at six in the morning by UTC");

        await file.WriteAsync(db => Rezone(db, access.Id), _cancel);
        await file.Writer.RebuildAsync(station.Id, Created, null, _cancel);

        (await DaysAsync(station)).Select(day => day.RollUp.Figures.Count).Should().Equal(24, 24);
        await VerifyAsync(station);

        static async Task Rezone(FleetDbContext db, AccessId id) => (await db.Accesses.FindAsync(id))!.TimeZone = "America/Boise";
    }

    [Fact]
    public async Task Days_in_transit_are_counted_by_the_fleet_s_own_time_zone()
    {
        await using FleetDbContext db = file.CreateDbContext();
        Station station = await file.AddStationAsync("TRANSIT-1", isPortable: true);
        await StoreAsync(Uses_(station, (-30, 1), (30, 2)));
        (await DaysAsync(station)).Select(day => day.RollUp.Day).Should().Equal(Day);

        await file.AddAsync(new Setting { Name = SettingNames.FleetTimeZone, Value = "America/Boise" });
        await file.Writer.RebuildAsync(station.Id, Created, null, _cancel);

        (await DaysAsync(station)).Select(day => (day.RollUp.Day, day.RollUp.Placement)).Should().Equal((Day.AddDays(-1), null), (Day, null));
        db.Settings.Remove(db.Settings.Single(setting => setting.Name == SettingNames.FleetTimeZone));
        await db.SaveChangesAsync();
        await file.Writer.RebuildAsync(station.Id, Created, null, _cancel);
        await VerifyAsync(station);
    }

    [Theory]
    [InlineData("2026-03-08", 23)]
    [InlineData("2026-11-01", 25)]
    public async Task A_day_of_the_clock_change_has_its_own_number_of_hours(string date, int hours)
    {
        Station station = await PlacedAsync($"CLOCK-{hours}");
        DateTimeOffset noon = DateTimeOffset.Parse($"{date}T18:00:00Z", null);
        await StoreAsync(Report(station, [.. Enumerable.Range(-300, 601).Select(i => new Measurement("battery/voltage", noon.AddMinutes(5 * i), i))]));

        IReadOnlyList<SeriesDay> days = await file.Reader.DaysAsync(
            [station.Id], ["battery/voltage"], DateOnly.Parse(date, null), DateOnly.Parse(date, null), _cancel);

        days.Should().ContainSingle().Which.RollUp.Figures.Count.Should().Be(hours * 12);
        await VerifyAsync(station);
    }

    [Fact]
    public async Task A_roll_up_that_was_tampered_with_is_found()
    {
        Station station = await PlacedAsync("TAMPER-1");
        await StoreAsync(Uses_(station, (5, 3), (65, 5)));
        file.Scalar($"UPDATE rollup_hours SET known = 99 WHERE series_id = (SELECT id FROM series WHERE station_id = {station.Id.Value}) AND across_hours = 2");
        file.Scalar($"DELETE FROM rollup_days WHERE series_id = (SELECT id FROM series WHERE station_id = {station.Id.Value})");

        IReadOnlyList<RollUpDifference> differences = await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel);

        differences.Select(difference => (difference.Hour, difference.Stored?.Known, difference.Expected?.Known)).Should().Equal(
            (Midnight.AddHours(1), 99, 0), (null, null, 2));
        await file.Writer.RebuildAsync(station.Id, Created, null, _cancel);
        await VerifyAsync(station);
    }

    [Fact]
    public async Task Any_cutting_into_reports_in_any_order_with_repeats_gives_the_same_roll_ups()
    {
        Access boise = await file.AddAccessAsync("any-boise");
        Access utc = await file.AddAccessAsync("any-utc", "UTC");
        int number = 0;
        DateTimeOffset start = new(2026, 10, 31, 20, 0, 0, TimeSpan.Zero); // over the night of 25 hours

        Gen<Row[]> rows = Gen.Select(Gen.Int[1, 40], Gen.Int[0, 6], Gen.Int[0, 11], Gen.Bool, Gen.Bool).Select(
            (gap, uses, restart, tellsUptime, tellsUses) => new Row(gap, uses, restart == 0, tellsUptime, tellsUses)).Array[5, 120];
        await Gen.Select(rows, Gen.Int[1, 12], Gen.Int[0, 1_000_000]).SampleAsync(
            async (walk, reports, seed) =>
            {
                number++;
                IReadOnlyList<Measurement> measurements = Measure(walk, start);
                Station inOrder = await StandingAsync($"IN-{number}");
                Station shuffled = await StandingAsync($"ANY-{number}");

                await StoreAsync(Report(inOrder, measurements));
                Random random = new(seed);
                Measurement[] pieces = [.. measurements, .. measurements.Where(_ => random.Next(3) == 0)];
                random.Shuffle(pieces);
                await Task.WhenAll(pieces.Chunk((pieces.Length / reports) + 1).Select(piece => StoreAsync(Report(shuffled, piece))));

                (await AllHoursAsync(shuffled)).Should().Equal(await AllHoursAsync(inOrder));
                (await AllDaysAsync(shuffled)).Should().Equal(await AllDaysAsync(inOrder));
                await VerifyAsync(inOrder);
                await VerifyAsync(shuffled);
            },
            iter: 25,
            threads: 1);

        // The same placement numbers for both, so that their roll-ups can be compared: the comparison leaves the number out.
        async Task<Station> StandingAsync(string code)
        {
            Station station = await file.AddStationAsync(code, isPortable: true);
            await file.AddPlacementAsync(station, boise, start.AddHours(2), start.AddHours(20));
            await file.AddPlacementAsync(station, utc, start.AddHours(21).AddMinutes(20));
            return station;
        }

        async Task<IEnumerable<object>> AllHoursAsync(Station station) =>
            (await file.Reader.HoursAsync(station.Id, [Uses, "tank/fill"], start.AddDays(-1), start.AddDays(9), _cancel))
            .Select(hour => (object)(hour.Name, hour.RollUp.Key.Start, hour.RollUp.Key.Day, hour.RollUp.Key.Placement is null, hour.RollUp.Figures));

        async Task<IEnumerable<object>> AllDaysAsync(Station station) =>
            (await file.Reader.DaysAsync([station.Id], [Uses, "tank/fill"], new DateOnly(2026, 10, 30), new DateOnly(2026, 11, 9), _cancel))
            .Select(day => (object)(day.Name, day.RollUp.Day, day.RollUp.Placement is null, day.RollUp.Figures));
    }

    private sealed record Row(int GapMinutes, int Uses, bool Restart, bool TellsUptime, bool TellsUses);

    private static List<Measurement> Measure(IEnumerable<Row> walk, DateTimeOffset start)
    {
        List<Measurement> measurements = [];
        (DateTimeOffset at, DateTimeOffset boot, double total) = (start, start.AddDays(-1), 0);
        foreach (Row row in walk)
        {
            (boot, total) = row.Restart ? (at.AddSeconds(30), 0) : (boot, total);
            (at, total) = (at.AddMinutes(row.GapMinutes), total + row.Uses);
            measurements.Add(new Measurement("tank/fill", at, (total % 100) / 100));
            if (row.TellsUses)
            {
                measurements.Add(new Measurement(Uses, at, total));
            }

            if (row.TellsUptime)
            {
                measurements.Add(new Measurement(MeasurementName.ControllerUptime, at, (at - boot).TotalSeconds));
            }
        }

        return measurements;
    }

    private static (double Known, double AcrossHours, double AcrossDays) Counted(SeriesHour hour) =>
        (hour.RollUp.Figures.Known, hour.RollUp.Figures.AcrossHours, hour.RollUp.Figures.AcrossDays);

    private static ReportToStore Uses_(Station station, params (int Minute, double Total)[] totals) =>
        Report(station, [.. totals.Select(total => new Measurement(Uses, Midnight.AddMinutes(total.Minute), total.Total))]);

    private async Task<Station> PlacedAsync(string code)
    {
        Station station = await file.AddStationAsync(code);
        Access access = await file.AddAccessAsync($"at-{code}");
        await file.AddPlacementAsync(station, access);
        return station;
    }

    private async Task StoreAsync(ReportToStore report) =>
        (await file.Writer.WriteAsync(report, _cancel)).Should().BeOfType<WriteOutcome.Stored>();

    private Task<IReadOnlyList<SeriesHour>> HoursAsync(Station station) =>
        file.Reader.HoursAsync(station.Id, [Uses], Midnight.AddDays(-2), Midnight.AddDays(3), _cancel);

    private Task<IReadOnlyList<SeriesDay>> DaysAsync(Station station) =>
        file.Reader.DaysAsync([station.Id], [Uses], Day.AddDays(-2), Day.AddDays(3), _cancel);

    private async Task VerifyAsync(Station station) =>
        (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty("roll-ups follow from the raw rows");
}
