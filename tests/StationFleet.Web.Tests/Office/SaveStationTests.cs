using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

public sealed class SaveStationTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task An_empty_form_says_what_each_field_needs()
    {
        SaveStation.Outcome outcome = await SaveAsync(new StationFields { ReportEveryMinutes = "soon" });

        outcome.Should().BeOfType<SaveStation.Outcome.Refused>().Which.Wrong.Keys.Should().BeEquivalentTo(
            nameof(StationFields.Code), nameof(StationFields.ReportEveryMinutes), nameof(StationFields.Owner),
            nameof(StationFields.Operator), nameof(StationFields.Created));
    }

    [Theory]
    [InlineData("cop-1", "Use capital letters, digits and hyphens, such as COP-1.")]
    [InlineData("COP 1", "Use capital letters, digits and hyphens, such as COP-1.")]
    [InlineData("TAKEN-1", "Another station has this code.")]
    public async Task A_code_is_plain_and_unique(string code, string sentence)
    {
        if (code == "TAKEN-1")
        {
            await app.AddStationAsync(code);
        }

        StationFields typed = await FieldsAsync(code);

        (await SaveAsync(typed)).Should().BeOfType<SaveStation.Outcome.Refused>().Which.Wrong.For(nameof(StationFields.Code)).Should().Be(sentence);
    }

    [Fact]
    public async Task A_new_station_stands_at_its_access_from_the_time_written_by_the_access_s_clock()
    {
        Access access = await app.AddAccessAsync("new-station");
        StationFields typed = await FieldsAsync("NEW-1");
        (typed.Access, typed.Created) = (FormIds.Of(access.Id), "2026-05-01T08:00");

        (await SaveAsync(typed)).Should().BeOfType<SaveStation.Outcome.Saved>();

        DateTimeOffset eightInBoise = new(2026, 5, 1, 14, 0, 0, TimeSpan.Zero);
        Station station = await app.FindAsync<Station>(row => row.Code == "NEW-1");
        station.Created.Should().Be(eightInBoise);
        station.ReportEvery.Should().Be(TimeSpan.FromMinutes(15));
        (await app.FindAsync<Placement>(row => row.StationId == station.Id)).Should().BeEquivalentTo(
            new { AccessId = access.Id, From = eightInBoise, To = (DateTimeOffset?)null });
    }

    [Fact]
    public async Task A_station_cannot_begin_in_the_future()
    {
        StationFields typed = await FieldsAsync("FUT-1");
        typed.Created = "2027-01-01T00:00";

        (await SaveAsync(typed)).Should().BeOfType<SaveStation.Outcome.Refused>()
            .Which.Wrong.For(nameof(StationFields.Created)).Should().Be("This time has not come yet.");
    }

    [Fact]
    public async Task A_station_is_not_given_away_out_of_one_s_own_sight()
    {
        Agency own = await app.AgencyAsync();
        Agency other = await app.AgencyAsync("Sorrel County Parks");
        StationFields typed = await FieldsAsync("AWAY-1");
        (typed.Owner, typed.Operator) = (FormIds.Of(other.Id), FormIds.Of(other.Id));

        (await SaveAsync(typed, Viewers.BiologistOf(own.Id))).Should().BeOfType<SaveStation.Outcome.Refused>()
            .Which.Wrong.Should().ContainKey(nameof(StationFields.Operator));
    }

    [Fact]
    public async Task Only_biologists_and_administrators_who_see_it_change_a_station()
    {
        Station station = await app.AddStationAsync("MINE-1");
        Agency other = await app.AgencyAsync("Sorrel County Parks");
        StationFields typed = await FieldsAsync("MINE-2", station.Id);

        (await SaveAsync(typed, Viewers.Technician)).Should().BeOfType<SaveStation.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.Supervisor)).Should().BeOfType<SaveStation.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.BiologistOf(other.Id))).Should().BeOfType<SaveStation.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.Administrator)).Should().BeEquivalentTo(new SaveStation.Outcome.Saved("MINE-2"));
    }

    private async Task<StationFields> FieldsAsync(string code, StationId? id = null)
    {
        string agency = FormIds.Of((await app.AgencyAsync()).Id);
        return new StationFields { Id = id, Code = code, Owner = agency, Operator = agency, Created = "2026-05-01T08:00" };
    }

    private Task<SaveStation.Outcome> SaveAsync(StationFields typed, Viewer? viewer = null) =>
        app.Get<SaveStation>().HandleAsync(viewer ?? Viewers.Biologist, typed, CancellationToken.None);
}
