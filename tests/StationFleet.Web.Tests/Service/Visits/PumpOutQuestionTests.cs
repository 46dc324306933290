using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Visits;

namespace StationFleet.Web.Tests.Service.Visits;

public sealed class PumpOutQuestionTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static readonly DateTimeOffset Fell = FleetApp.Start.AddDays(-2);

    [Fact]
    public async Task An_emptied_tank_that_nobody_wrote_down_is_asked_about_until_somebody_says_it_was_them()
    {
        Station station = await AddEmptiedAsync("ASK-1");
        (_, PlainBrowser first) = await app.AddBrowserAsync("First crew", FleetRoles.Technician);
        (FleetUser person, PlainBrowser second) = await app.AddBrowserAsync("Second crew", FleetRoles.Technician);
        using PlainBrowser one = first;
        using PlainBrowser other = second;
        (await first.GoAsync("/work")).Words.Should().Contain("was not written down. Was it you?");
        PlainBrowser.Page asked = await first.GoAsync("/pump-outs");
        asked.Words.Should().Contain("ASK-1").And.Contain("44 gal pumped out. Was this you?");

        (await first.SendAsync("/pump-outs", asked, "Answer", Button("no", station))).Location.Should().EndWith("/pump-outs?said=1");
        (await first.GoAsync("/pump-outs")).Words.Should().NotContain("ASK-1");
        PlainBrowser.Page still = await second.GoAsync("/pump-outs");
        still.Words.Should().Contain("First crew said: it was not me.");
        await second.SendAsync("/pump-outs", still, "Answer", Button("yes", station));

        (await second.GoAsync("/pump-outs")).Words.Should().NotContain("ASK-1");
        ServiceVisit visit = await app.ReadAsync(db => db.ServiceVisits.SingleAsync(row => row.StationId == station.Id));
        visit.Should().BeEquivalentTo(new { Who = "Second crew", At = Fell });
        PumpOut told = await app.ReadAsync(db => db.PumpOuts.SingleAsync(row => row.StationId == station.Id && row.Source == PumpOutSource.Visit));
        told.Should().BeEquivalentTo(new { VisitId = visit.Id, At = Fell });
        told.Litres.Should().BeApproximately(0.8 * 208.2, 1e-6, "as the sensor saw it");
        List<PumpOutAnswer> answers = await app.ReadAsync(db => db.PumpOutAnswers.Where(row => row.StationId == station.Id).OrderBy(row => row.Id).ToListAsync());
        answers.Select(answer => (answer.Who, answer.WasThem)).Should().Equal(("First crew", false), ("Second crew", true));
        answers[1].PersonId.Should().Be(person.Id);

        PlainBrowser.Page again = await second.SendAsync("/pump-outs", still, "Answer", Button("yes", station));
        again.Words.Should().Contain("This one is answered already.");
        (await app.ReadAsync(db => db.ServiceVisits.CountAsync(row => row.StationId == station.Id))).Should().Be(1);
    }

    [Fact]
    public async Task One_that_a_visit_wrote_down_is_not_asked_about()
    {
        Station station = await AddEmptiedAsync("ASK-2");
        await app.Databases.AddAsync(new PumpOut { StationId = station.Id, At = Fell.AddHours(2), Litres = 160, Source = PumpOutSource.Visit });
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Third crew", FleetRoles.Technician);
        using PlainBrowser closing = browser;

        (await browser.GoAsync("/pump-outs")).Words.Should().NotContain("ASK-2");
    }

    [Fact]
    public async Task An_answer_to_nothing_is_told_so()
    {
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Fourth crew", FleetRoles.Technician);
        using PlainBrowser closing = browser;
        PlainBrowser.Page page = await browser.GoAsync("/pump-outs");

        (await browser.SendAsync("/pump-outs", page, "Answer", "yes 9999 12")).Words.Should().Contain("This one is answered already.");
        (await browser.SendAsync("/pump-outs", page, "Answer", "perhaps")).Words.Should().Contain("press the button of one tank");
    }

    private static string Button(string answer, Station station) => $"{answer} {station.Id.Value} {Fell.ToUnixTimeMilliseconds()}";

    private async Task<Station> AddEmptiedAsync(string code)
    {
        Station station = await app.Databases.AddStationAsync(code);
        await app.Databases.AddAsync(new StationTank { StationId = station.Id, From = station.Created, CapacityLitres = 208.2 });
        TankReading Reading(double fill, int minutes) => new(MeasurementName.TankFill, Fell.AddMinutes(minutes), fill);
        await app.Databases.AddAsync(new PumpOut
        {
            StationId = station.Id, At = Fell, Litres = 0.8 * 208.2, Source = PumpOutSource.Telemetry, Readings = new EmptyingReadings(Reading(0.9, -5), Reading(0.1, 0)),
        });
        return station;
    }
}
