using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

/// <summary>Tools, tank, power, keys and winter storage of a station that stands in Boise's time zone since 8 June 2026.</summary>
public sealed class StationPartsTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _stations;

    [Fact]
    public async Task A_tool_needs_names_and_sensible_times()
    {
        Station station = await AddStationAsync();

        SaveTool.Outcome outcome = await SaveAsync(new SaveTool.Command
        {
            Station = station.Id, Slug = "Boot Brush", Name = " ", Kind = "Hammer", IdleAfterDays = "0", Installed = "2026-06-10T08:00", Removed = "2026-06-09T08:00",
        });

        outcome.Should().BeOfType<SaveTool.Outcome.Refused>().Which.Wrong.Should().BeEquivalentTo(new Dictionary<string, string>
        {
            [nameof(SaveTool.Command.Slug)] = "Use lower-case letters, digits and hyphens, such as boot-brush.",
            [nameof(SaveTool.Command.Name)] = "Write the name that pages show.",
            [nameof(SaveTool.Command.Kind)] = "Choose what the tool is for.",
            [nameof(SaveTool.Command.IdleAfterDays)] = "Write a number from 0.5 to 120 days.",
            [nameof(SaveTool.Command.Removed)] = "It must come off after it was hung up.",
        });
    }

    [Fact]
    public async Task A_tool_s_counter_that_starts_again_at_a_number_is_counted_anew_when_the_number_is_set()
    {
        Station station = await AddStationAsync();
        await SaveAsync(Tool(station, "brush", "2026-06-08T08:00"));
        int id = (await app.FindAsync<Tool>(tool => tool.StationId == station.Id)).Id;
        DateTimeOffset at = FleetApp.Start.AddDays(-1);
        await app.Get<MeasurementWriter>().WriteAsync(
            FleetBuilders.Report(
                station,
                new Measurement(MeasurementName.Uses("brush"), at, 65_530),
                new Measurement(MeasurementName.Uses("brush"), at.AddMinutes(5), 4)),
            CancellationToken.None);
        (await GainedAsync(station)).Should().Be(4, "a fall is a restart, and only what came after it is sure");
        SaveTool.Command command = Tool(station, "brush", "2026-06-08T08:00", id: id);

        command.UsesWrapAt = "10";
        SaveTool.Outcome tooSmall = await SaveAsync(command);
        command.UsesWrapAt = "65536";
        await SaveAsync(command);

        tooSmall.Should().BeOfType<SaveTool.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(SaveTool.Command.UsesWrapAt));
        (await GainedAsync(station)).Should().Be(10, "six to the end and four after it");
        command.UsesWrapAt = "";
        await SaveAsync(command);
        (await GainedAsync(station)).Should().Be(4);
    }

    private async Task<double> GainedAsync(Station station) => (await app.Get<MeasurementReader>().DaysAsync(
        [station.Id], [MeasurementName.Uses("brush")], new DateOnly(2026, 7, 1), new DateOnly(2026, 7, 9), CancellationToken.None))
        .Sum(day => day.RollUp.Figures.Gained);

    [Fact]
    public async Task A_tool_that_is_taken_off_gives_its_name_free()
    {
        Station station = await AddStationAsync();
        await SaveAsync(Tool(station, "brush", "2026-06-08T08:00"));
        int first = (await app.FindAsync<Tool>(tool => tool.StationId == station.Id)).Id;

        SaveTool.Outcome tooEarly = await SaveAsync(Tool(station, "brush", "2026-06-20T08:00"));
        await SaveAsync(Tool(station, "brush", "2026-06-08T08:00", removed: "2026-06-20T08:00", id: first));
        SaveTool.Outcome then = await SaveAsync(Tool(station, "brush", "2026-06-20T08:00"));

        tooEarly.Should().BeOfType<SaveTool.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(SaveTool.Command.Slug));
        then.Should().BeOfType<SaveTool.Outcome.Saved>();
    }

    [Fact]
    public async Task A_tank_is_written_in_gallons_and_inches_and_kept_in_litres_and_metres()
    {
        Station station = await AddStationAsync();

        await SaveAsync(new SaveTank.Command { Station = station.Id, From = "2026-06-10T00:00", Capacity = "55", Shape = "even", Height = "33", SensorHeight = "36" });

        StationTank tank = await app.FindAsync<StationTank>(row => row.StationId == station.Id);
        tank.CapacityLitres.Should().BeApproximately(208.19764812, 1e-9, "a US gallon is exactly 3.785411784 L");
        tank.Shape.Should().BeOfType<EvenTank>().Which.FullHeightM.Should().BeApproximately(0.8382, 1e-12, "an inch is exactly 0.0254 m");
        tank.SensorHeightM.Should().BeApproximately(0.9144, 1e-12);
    }

    [Fact]
    public async Task Two_tanks_do_not_begin_at_once_and_a_wrong_one_is_removed()
    {
        Station station = await AddStationAsync();
        SaveTank.Command typed = new() { Station = station.Id, From = "2026-06-10T00:00", Capacity = "55" };
        await SaveAsync(typed);
        int id = (await app.FindAsync<StationTank>(row => row.StationId == station.Id)).Id;

        SaveTank.Outcome again = await SaveAsync(typed);
        RemoveStationPart.Outcome byTechnician = await app.Get<RemoveStationPart>().HandleAsync<StationTank>(Viewers.Technician, new RemoveStationPart.Command(station.Id, id), CancellationToken.None);
        RemoveStationPart.Outcome removed = await app.Get<RemoveStationPart>().HandleAsync<StationTank>(Viewers.Biologist, new RemoveStationPart.Command(station.Id, id), CancellationToken.None);

        again.Should().BeOfType<SaveTank.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(SaveTank.Command.From));
        byTechnician.Should().BeOfType<RemoveStationPart.Outcome.NotAllowed>();
        removed.Should().BeOfType<RemoveStationPart.Outcome.Removed>();
        (await SaveAsync(typed)).Should().BeOfType<SaveTank.Outcome.Saved>();
    }

    [Fact]
    public async Task A_battery_out_of_range_is_refused_and_a_sensible_one_is_kept()
    {
        Station station = await AddStationAsync();
        SavePower handler = app.Get<SavePower>();

        SavePower.Outcome wrong = await handler.HandleAsync(
            Viewers.Biologist,
            new SavePower.Command { Station = station.Id, From = "2026-06-10T00:00", CapacityAh = "0", PanelWatts = "-5", NominalVolts = "120", TiltDeg = "91", AzimuthDeg = "x" },
            CancellationToken.None);
        SavePower.Outcome right = await handler.HandleAsync(
            Viewers.Biologist, new SavePower.Command { Station = station.Id, From = "2026-06-10T00:00", CapacityAh = "100", PanelWatts = "160" }, CancellationToken.None);

        wrong.Should().BeOfType<SavePower.Outcome.Refused>().Which.Wrong.Keys.Should().BeEquivalentTo(
            nameof(SavePower.Command.CapacityAh), nameof(SavePower.Command.PanelWatts), nameof(SavePower.Command.NominalVolts),
            nameof(SavePower.Command.TiltDeg), nameof(SavePower.Command.AzimuthDeg));
        right.Should().BeOfType<SavePower.Outcome.Saved>();
        (await app.FindAsync<StationPower>(row => row.StationId == station.Id)).Should().BeEquivalentTo(
            new { CapacityAh = 100.0, PanelWatts = 160.0, NominalVolts = 12.0, TiltDeg = 45.0, AzimuthDeg = 180.0 });
    }

    [Fact]
    public async Task Height_and_table_of_rest_voltages_are_kept_and_lithium_takes_no_table()
    {
        Station station = await AddStationAsync();
        SavePower.Command typed = new()
        {
            Station = station.Id, From = "2026-06-10T00:00", CapacityAh = "100", PanelWatts = "160", HeightM = "1600", RestTable = "FloodedMaker",
            Chemistry = nameof(BatteryChemistry.LithiumIronPhosphate),
        };
        SavePower handler = app.Get<SavePower>();

        (await handler.HandleAsync(Viewers.Biologist, typed, CancellationToken.None))
            .Should().BeOfType<SavePower.Outcome.Refused>().Which.Wrong.Keys.Should().Equal(nameof(SavePower.Command.RestTable));
        typed.Chemistry = nameof(BatteryChemistry.FloodedLeadAcid);
        (await handler.HandleAsync(Viewers.Biologist, typed, CancellationToken.None)).Should().BeOfType<SavePower.Outcome.Saved>();

        (await app.FindAsync<StationPower>(row => row.StationId == station.Id)).Should().BeEquivalentTo(
            new { HeightM = 1600.0, RestTable = RestVoltageTable.FloodedMaker });
    }

    [Fact]
    public async Task A_station_is_laid_up_and_put_in_service_in_turn()
    {
        Station station = await AddStationAsync();

        Winterize.Outcome inServiceAlready = await WinterizeAsync(station, layUp: false, "2026-06-20T08:00");
        Winterize.Outcome laidUp = await WinterizeAsync(station, layUp: true, "2026-06-20T08:00");
        Winterize.Outcome tooEarly = await WinterizeAsync(station, layUp: false, "2026-06-19T08:00");
        Winterize.Outcome untested = await WinterizeAsync(station, layUp: false, "2026-06-25T08:00");
        await app.Databases.AddAsync(new SignedChecklist
        {
            StationId = station.Id, List = SignedList.SeasonOpening, At = new DateTimeOffset(2026, 6, 24, 14, 0, 0, TimeSpan.Zero), Who = "field crew",
            Steps = "each tool", IdempotencyKey = $"opening-{station.Code}",
        });
        Winterize.Outcome inService = await WinterizeAsync(station, layUp: false, "2026-06-25T08:00");
        Winterize.Outcome insideThat = await WinterizeAsync(station, layUp: true, "2026-06-22T08:00");

        inServiceAlready.Should().BeOfType<Winterize.Outcome.Refused>();
        laidUp.Should().BeOfType<Winterize.Outcome.Done>();
        tooEarly.Should().BeOfType<Winterize.Outcome.Refused>();
        untested.Should().BeOfType<Winterize.Outcome.Refused>().Which.Wrong.For(nameof(Winterize.Command.At)).Should().Contain("every tool is tested before it is in service");
        inService.Should().BeOfType<Winterize.Outcome.Done>();
        insideThat.Should().BeOfType<Winterize.Outcome.Refused>();
        (await app.FindAsync<WinterStorage>(row => row.StationId == station.Id)).Should().BeEquivalentTo(new
        {
            From = new DateTimeOffset(2026, 6, 20, 14, 0, 0, TimeSpan.Zero),
            To = new DateTimeOffset(2026, 6, 25, 14, 0, 0, TimeSpan.Zero),
        });
    }

    [Fact]
    public async Task A_key_is_made_and_revoked_only_by_those_who_may()
    {
        Station station = await AddStationAsync();
        Agency other = await app.AgencyAsync("Sorrel County Parks");
        MakeKey making = app.Get<MakeKey>();

        (await making.HandleAsync(Viewers.Technician, station.Id, CancellationToken.None)).Should().BeOfType<MakeKey.Outcome.NotAllowed>();
        (await making.HandleAsync(Viewers.BiologistOf(other.Id), station.Id, CancellationToken.None)).Should().BeOfType<MakeKey.Outcome.NotAllowed>();
        string key = ((MakeKey.Outcome.Made)await making.HandleAsync(Viewers.Biologist, station.Id, CancellationToken.None)).Key;
        StationKeys.Holder holder = (await app.Get<StationKeys>().FindAsync(key, CancellationToken.None)).Should().BeOfType<StationKeys.Lookup.Valid>().Subject.Holder;
        (await RevokeAsync(Viewers.BiologistOf(other.Id), station, holder.KeyId)).Should().BeOfType<RevokeKey.Outcome.NotAllowed>();
        (await RevokeAsync(Viewers.Biologist, station, holder.KeyId)).Should().BeOfType<RevokeKey.Outcome.Revoked>();
        (await app.Get<StationKeys>().FindAsync(key, CancellationToken.None)).Should().BeOfType<StationKeys.Lookup.Refused>().Which.Revoked.Should().NotBeNull();
    }

    [Fact]
    public async Task The_setup_is_read_whole_by_those_who_see_the_station_and_by_nobody_else()
    {
        Station station = await AddStationAsync();
        Agency other = await app.AgencyAsync("Sorrel County Parks");
        await SaveAsync(Tool(station, "vacuum", "2026-06-08T08:00"));

        ReadStationSetup.View? view = await app.Get<ReadStationSetup>().HandleAsync(Viewers.Technician, station.Code, CancellationToken.None);

        view!.ZoneId.Should().Be("America/Boise");
        view.Present!.Place.Should().Be("Dam Road");
        view.Tools.Single().Slug.Should().Be("vacuum");
        (await app.Get<ReadStationSetup>().HandleAsync(Viewers.BiologistOf(other.Id), station.Code, CancellationToken.None)).Should().BeNull();
    }

    private static SaveTool.Command Tool(Station station, string slug, string installed, string removed = "", int? id = null) => new()
    {
        Station = station.Id, Id = id, Slug = slug, Name = slug, Kind = nameof(ToolKind.Brush), Installed = installed, Removed = removed,
    };

    private async Task<Station> AddStationAsync()
    {
        int number = Interlocked.Increment(ref _stations);
        return await app.AddStationAsync($"PART-{number}", await app.AddAccessAsync($"part-{number}"));
    }

    private Task<SaveTool.Outcome> SaveAsync(SaveTool.Command typed) => app.Get<SaveTool>().HandleAsync(Viewers.Biologist, typed, CancellationToken.None);

    private Task<SaveTank.Outcome> SaveAsync(SaveTank.Command typed) => app.Get<SaveTank>().HandleAsync(Viewers.Biologist, typed, CancellationToken.None);

    private Task<Winterize.Outcome> WinterizeAsync(Station station, bool layUp, string at) => app.Get<Winterize>().HandleAsync(
        Viewers.Biologist, new Winterize.Command { Station = station.Id, LayUp = layUp, At = at }, CancellationToken.None);

    private Task<RevokeKey.Outcome> RevokeAsync(Web.Accounts.Viewer viewer, Station station, int key) =>
        app.Get<RevokeKey>().HandleAsync(viewer, new RevokeKey.Command(station.Id, key), CancellationToken.None);
}
