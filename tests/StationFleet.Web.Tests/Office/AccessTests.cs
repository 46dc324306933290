using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

public sealed class AccessTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task An_empty_form_says_what_each_field_needs()
    {
        SaveAccess.Outcome outcome = await SaveAsync(new SaveAccess.Command());

        outcome.Should().BeOfType<SaveAccess.Outcome.Refused>().Which.Wrong.Keys.Should().BeEquivalentTo(
            nameof(SaveAccess.Command.Name), nameof(SaveAccess.Command.Slug), nameof(SaveAccess.Command.Water), nameof(SaveAccess.Command.Host),
            nameof(SaveAccess.Command.TimeZone), nameof(SaveAccess.Command.Latitude), nameof(SaveAccess.Command.Longitude));
    }

    [Theory]
    [InlineData("Mountain Standard Time")]
    [InlineData("America/Nowhere")]
    [InlineData("../etc/passwd")]
    public async Task A_time_zone_is_one_of_the_iana_database(string zone)
    {
        SaveAccess.Command typed = await FieldsAsync("zone");
        typed.TimeZone = zone;

        (await SaveAsync(typed)).Should().BeOfType<SaveAccess.Outcome.Refused>().Which.Wrong.Keys.Should().Equal(nameof(SaveAccess.Command.TimeZone));
    }

    [Fact]
    public async Task Another_access_s_name_is_refused_and_coordinates_stay_on_the_globe()
    {
        await app.AddAccessAsync("taken");
        SaveAccess.Command typed = await FieldsAsync("taken");
        (typed.Latitude, typed.Longitude) = ("91", "-181");

        (await SaveAsync(typed)).Should().BeOfType<SaveAccess.Outcome.Refused>().Which.Wrong.Keys.Should().BeEquivalentTo(
            nameof(SaveAccess.Command.Slug), nameof(SaveAccess.Command.Latitude), nameof(SaveAccess.Command.Longitude));
    }

    [Fact]
    public async Task A_new_time_zone_counts_the_days_of_what_stood_there_anew()
    {
        Access access = await app.AddAccessAsync("moves-west");
        Station station = await app.AddStationAsync("WEST-1", access);
        DateTimeOffset lateInBoise = new(2026, 7, 2, 6, 30, 0, TimeSpan.Zero);   // 00:30 on the 2nd in Boise, 23:30 on the 1st in Los Angeles
        await app.Get<MeasurementWriter>().WriteAsync(
            new ReportToStore(station.Id, FleetApp.Start, [new IndexedMeasurement(0, new Measurement(MeasurementName.BatteryVoltage, lateInBoise, 12.8), "")], []),
            CancellationToken.None);
        DateOnly[] before = await DaysAsync(station);
        SaveAccess.Command typed = await FieldsAsync("moves-west", access.Id);
        typed.TimeZone = "America/Los_Angeles";

        (await SaveAsync(typed)).Should().BeOfType<SaveAccess.Outcome.Saved>();

        before.Should().Equal(new DateOnly(2026, 7, 2));
        (await DaysAsync(station)).Should().Equal(new DateOnly(2026, 7, 1));
    }

    [Fact]
    public async Task A_closure_needs_a_reason_and_ends_after_it_began_and_two_do_not_overlap()
    {
        Access access = await app.AddAccessAsync("closes");

        SaveClosure.Outcome empty = await CloseAsync(access, "2026-07-01T08:00", "2026-06-30T08:00", "");
        SaveClosure.Outcome first = await CloseAsync(access, "2026-07-01T08:00", "", "low water");
        SaveClosure.Outcome second = await CloseAsync(access, "2026-07-05T08:00", "", "fire");

        empty.Should().BeOfType<SaveClosure.Outcome.Refused>().Which.Wrong.Should().BeEquivalentTo(new Dictionary<string, string>
        {
            [nameof(SaveClosure.Command.Reason)] = "Write why, such as low water.",
            [nameof(SaveClosure.Command.To)] = "The end must lie after the start.",
        });
        first.Should().BeOfType<SaveClosure.Outcome.Saved>();
        second.Should().BeOfType<SaveClosure.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(SaveClosure.Command.From));
        ReadAccess.View view = (await app.Get<ReadAccess>().HandleAsync(Viewers.Supervisor, "closes", CancellationToken.None))!;
        view.Closed!.Reason.Should().Be("low water");
        view.MayChange.Should().BeFalse("a supervisor reads");
    }

    [Fact]
    public async Task An_access_is_changed_by_its_host_s_people_only()
    {
        Access access = await app.AddAccessAsync("hosted");
        Agency other = await app.AgencyAsync("Sorrel County Parks");
        SaveAccess.Command typed = await FieldsAsync("hosted", access.Id);

        (await SaveAsync(typed, Viewers.BiologistOf(other.Id))).Should().BeOfType<SaveAccess.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.Technician)).Should().BeOfType<SaveAccess.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.BiologistOf(access.HostId))).Should().BeOfType<SaveAccess.Outcome.Saved>();
    }

    [Fact]
    public async Task An_agency_has_a_name_of_its_own_and_is_named_by_people_of_the_whole_fleet()
    {
        Agency agency = await app.AgencyAsync("Otter Bend Lake Association");
        SaveAgency handler = app.Get<SaveAgency>();

        (await handler.HandleAsync(Viewers.Biologist, new SaveAgency.Command { Name = " " }, CancellationToken.None))
            .Should().BeOfType<SaveAgency.Outcome.Refused>();
        (await handler.HandleAsync(Viewers.Biologist, new SaveAgency.Command { Name = agency.Name }, CancellationToken.None))
            .Should().BeOfType<SaveAgency.Outcome.Refused>();
        (await handler.HandleAsync(Viewers.BiologistOf(agency.Id), new SaveAgency.Command { Name = "Another" }, CancellationToken.None))
            .Should().BeOfType<SaveAgency.Outcome.NotAllowed>();
        (await handler.HandleAsync(Viewers.Administrator, new SaveAgency.Command { Id = agency.Id, Name = "Otter Bend Lakes" }, CancellationToken.None))
            .Should().BeOfType<SaveAgency.Outcome.Saved>();
        (await app.FindAsync<Agency>(row => row.Id == agency.Id)).Name.Should().Be("Otter Bend Lakes");
    }

    private async Task<SaveAccess.Command> FieldsAsync(string slug, AccessId? id = null) => new()
    {
        Id = id,
        Name = "Dam Road",
        Slug = slug,
        Water = "Copperline Reservoir",
        Host = FormIds.Of((await app.AgencyAsync()).Id),
        TimeZone = "America/Boise",
        Latitude = "44.4",
        Longitude = "-115.2",
    };

    private Task<SaveAccess.Outcome> SaveAsync(SaveAccess.Command typed, Viewer? viewer = null) =>
        app.Get<SaveAccess>().HandleAsync(viewer ?? Viewers.Biologist, typed, CancellationToken.None);

    private Task<SaveClosure.Outcome> CloseAsync(Access access, string from, string to, string reason) => app.Get<SaveClosure>().HandleAsync(
        Viewers.Biologist, new SaveClosure.Command { Access = access.Id, From = from, To = to, Reason = reason }, CancellationToken.None);

    private async Task<DateOnly[]> DaysAsync(Station station) =>
        [.. (await app.Get<MeasurementReader>().DaysAsync(
            [station.Id], [MeasurementName.BatteryVoltage], new DateOnly(2026, 6, 1), new DateOnly(2026, 7, 8), CancellationToken.None)).Select(day => day.RollUp.Day)];
}
