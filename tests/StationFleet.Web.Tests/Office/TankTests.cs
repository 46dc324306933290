using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

/// <summary>The tank of a station that exists since 8 June 2026, set up in gallons and inches.</summary>
public sealed class TankTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _stations;

    public static TheoryData<string, string, string> Wrong => new()
    {
        { nameof(SaveTank.Command.Capacity), "0", "Write a number from 1 to 10000 gal." },
        { nameof(SaveTank.Command.Capacity), "55 gal", "Write a number, such as 12.5." },
        { nameof(SaveTank.Command.Capacity), "58", "A tank of these dimensions holds 57.7 gal to the brim: full cannot be more." },
        { nameof(SaveTank.Command.Shape), "bottle", "Choose one of the shapes." },
        { nameof(SaveTank.Command.Diameter), "", "Write a number, such as 12.5." },
        { nameof(SaveTank.Command.SensorHeight), "30", "The sensor must hang above the liquid in a full tank." },
        { nameof(SaveTank.Command.Accuracy), "90", "Write a number from 0.1 to 50 %." },
        { nameof(SaveTank.Command.From), "2026-05-10T00:00", "The station did not exist yet at that time." },
        { nameof(SaveTank.Command.From), "tomorrow-ish", "Write a date and a time." },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public async Task A_tank_that_cannot_be_is_refused_beside_its_field(string field, string value, string sentence)
    {
        Station station = await AddStationAsync();
        SaveTank.Command typed = Drum(station);
        typeof(SaveTank.Command).GetProperty(field)!.SetValue(typed, value);

        SaveTank.Outcome outcome = await SaveAsync(typed);

        outcome.Should().BeOfType<SaveTank.Outcome.Refused>().Which.Wrong
            .Should().BeEquivalentTo(new Dictionary<string, string> { [field] = sentence });
    }

    [Fact]
    public async Task A_distance_sensor_needs_a_shape()
    {
        Station station = await AddStationAsync();

        SaveTank.Outcome outcome = await SaveAsync(
            new SaveTank.Command { Station = station.Id, From = "2026-06-10T00:00", Capacity = "55", SensorHeight = "36" });

        outcome.Should().BeOfType<SaveTank.Outcome.Refused>().Which.Wrong.Keys.Should().Equal(nameof(SaveTank.Command.Shape));
    }

    [Fact]
    [Source("A 22.5 in × 33.5 in drum: 20.655 gal at 12 in, 55 gal at 31.954 in, 57.662 gal to the brim, by V = π D² h / 4")]
    public void Before_it_is_saved_the_form_says_what_the_tank_would_hold()
    {
        Typed typed = new();
        TankSetup tank = TypedTank.Read(Drum(new Station { Code = "COP-1" }), UnitSystem.UsCustomary, typed);

        typed.Wrong.Should().BeEmpty();
        TypedTank.Preview(tank, UnitSystem.UsCustomary).Should().Be(
            "At 8 in 13.8 gal, at 16 in 27.5 gal, at 24 in 41.3 gal; full at 55 gal, 31.95 in high; 57.7 gal to the brim.");
    }

    [Fact]
    public async Task A_pasted_table_is_read_line_by_line_and_a_wrong_line_is_named()
    {
        Station station = await AddStationAsync();
        SaveTank.Command typed = new() { Station = station.Id, From = "2026-06-10T00:00", Capacity = "40", Shape = "table", Rows = "Height\tGallons\r\n0\t0\r\n10\t16.9\r\n20\t34.2\r\n33.5\tfull\r\n" };

        SaveTank.Outcome wrong = await SaveAsync(typed);
        typed.Rows = typed.Rows.Replace("full", "57");
        SaveTank.Outcome right = await SaveAsync(typed);

        wrong.Should().BeOfType<SaveTank.Outcome.Refused>().Which.Wrong[nameof(typed.Rows)].Should().Be("Line 5 is not a height and a volume: «33.5\tfull».");
        right.Should().BeOfType<SaveTank.Outcome.Saved>();
        (await app.FindAsync<StationTank>(tank => tank.StationId == station.Id)).Shape.Should().BeOfType<StrappingTable>().Which.Rows[2]
            .Should().BeEquivalentTo(new { LevelM = 0.508, Litres = 34.2 * 3.785411784 }, how => how.Using<double>(x => x.Subject.Should().BeApproximately(x.Expectation, 1e-9)).WhenTypeIs<double>());
    }

    [Fact]
    public async Task A_calibration_is_kept_in_metres_and_says_what_it_changed()
    {
        Station station = await AddStationAsync();
        await SaveAsync(Drum(station));

        SaveCalibration.Outcome outcome = await CalibrateAsync(station, "2026-06-20T08:00", "2", "2.5", "30", "30.5");

        outcome.Should().BeOfType<SaveCalibration.Outcome.Saved>();
        ReadStationSetup.View view = (await app.Get<ReadStationSetup>().HandleAsync(Viewers.Technician, station.Code, CancellationToken.None))!;
        LevelCalibration calibration = view.Calibrations.Single().Calibration;
        calibration.Low.Should().Be(new CalibrationPoint(2 * 0.0254, 2.5 * 0.0254));
        calibration.From.Should().Be(new DateTimeOffset(2026, 6, 20, 14, 0, 0, TimeSpan.Zero));
        TypedTank.Change(view.TankHistory, calibration, UnitSystem.UsCustomary).Should().Be("What was 27.5 gal is 28.4 gal.", "half an inch of a drum is 0.86 gal");
    }

    [Theory]
    [InlineData("2026-06-09T00:00", "2", "2.5", "30", "30.5", nameof(SaveCalibration.Command.From), "No tank was set up yet at that time.")]
    [InlineData("2026-06-20T08:00", "2", "2.5", "2", "30.5", nameof(SaveCalibration.Command.HighTrue), "The two readings of the sensor are the same: they make no line.")]
    [InlineData("2026-06-20T08:00", "2", "30", "30", "2.5", nameof(SaveCalibration.Command.HighTrue), "The reading must rise with the liquid: are the two levels swapped?")]
    [InlineData("2026-06-20T08:00", "2", "", "30", "30.5", nameof(SaveCalibration.Command.LowTrue), "Write a number, such as 12.5.")]
    public async Task A_calibration_that_cannot_be_is_refused_beside_its_field(
        string from, string lowRaw, string lowTrue, string highRaw, string highTrue, string field, string sentence)
    {
        Station station = await AddStationAsync();
        await SaveAsync(Drum(station));

        SaveCalibration.Outcome outcome = await CalibrateAsync(station, from, lowRaw, lowTrue, highRaw, highTrue);

        outcome.Should().BeOfType<SaveCalibration.Outcome.Refused>().Which.Wrong
            .Should().BeEquivalentTo(new Dictionary<string, string> { [field] = sentence });
    }

    [Fact]
    public async Task Two_calibrations_do_not_begin_at_once_and_only_those_who_may_remove_one()
    {
        Station station = await AddStationAsync();
        await SaveAsync(Drum(station));
        await CalibrateAsync(station, "2026-06-20T08:00", "2", "2.5", "30", "30.5");
        int id = (await app.FindAsync<StationCalibration>(row => row.StationId == station.Id)).Id;
        RemoveStationPart removing = app.Get<RemoveStationPart>();

        (await CalibrateAsync(station, "2026-06-20T08:00", "2", "3", "30", "31")).Should().BeOfType<SaveCalibration.Outcome.Refused>();
        (await removing.HandleAsync<StationCalibration>(Viewers.Technician, new(station.Id, id), CancellationToken.None)).Should().BeOfType<RemoveStationPart.Outcome.NotAllowed>();
        (await removing.HandleAsync<StationCalibration>(Viewers.Biologist, new(station.Id, id), CancellationToken.None)).Should().BeOfType<RemoveStationPart.Outcome.Removed>();
        (await CalibrateAsync(station, "2026-06-20T08:00", "2", "3", "30", "31")).Should().BeOfType<SaveCalibration.Outcome.Saved>();
    }

    [Fact]
    public async Task The_raw_level_is_kept_and_pages_make_litres_of_it_by_the_tank_and_calibration_of_its_time()
    {
        Station station = await AddStationAsync();
        await SaveAsync(Drum(station));
        await app.Get<MeasurementWriter>().WriteAsync(
            FleetBuilders.Report(station, new Measurement(MeasurementName.TankLevel, FleetApp.Start.AddHours(-1), 16 * Units.MetresPerInch)), CancellationToken.None);

        string before = await TankSentenceAsync(station);
        await CalibrateAsync(station, "2026-07-08T06:30", "2", "4", "30", "32");
        string laterCalibration = await TankSentenceAsync(station);
        await CalibrateAsync(station, "2026-07-01T08:00", "2", "4", "30", "32");
        string calibrated = await TankSentenceAsync(station);

        before.Should().StartWith("It holds 28 ± 1.1 gal of 55 gal, the liquid 16 in high;");
        laterCalibration.Should().Be(before, "what was measured before the calibration stays as it was");
        calibrated.Should().StartWith("It holds 31 ± 1.1 gal of 55 gal, the liquid 18 in high;");
        (await app.Get<MeasurementReader>().LatestAsync(station.Id, CancellationToken.None)).Single().Value.Should().BeApproximately(0.4064, 1e-12);
    }

    private async Task<string> TankSentenceAsync(Station station) =>
        (await app.Get<ReadStation>().HandleAsync(Viewers.Technician, station.Code, CancellationToken.None))!.Tank!;

    private static SaveTank.Command Drum(Station station) => new()
    {
        Station = station.Id, From = "2026-06-10T00:00", Capacity = "55", Shape = "standing", Diameter = "22.5", Height = "33.5",
    };

    private async Task<Station> AddStationAsync()
    {
        int number = Interlocked.Increment(ref _stations);
        return await app.AddStationAsync($"TANK-{number}", await app.AddAccessAsync($"tank-{number}"));
    }

    private Task<SaveTank.Outcome> SaveAsync(SaveTank.Command typed) => app.Get<SaveTank>().HandleAsync(Viewers.Biologist, typed, CancellationToken.None);

    private Task<SaveCalibration.Outcome> CalibrateAsync(
        Station station, string from, string lowRaw, string lowTrue, string highRaw, string highTrue) => app.Get<SaveCalibration>().HandleAsync(
        Viewers.Biologist,
        new SaveCalibration.Command
        {
            Station = station.Id, Name = MeasurementName.TankLevel, From = from, LowRaw = lowRaw, LowTrue = lowTrue, HighRaw = highRaw, HighTrue = highTrue,
        },
        CancellationToken.None);
}
