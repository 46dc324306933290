using System.Net;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Service;

public sealed class StationShortTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Code_keys_and_the_last_five_visits_stand_on_the_phone_and_not_in_public()
    {
        Ticket ticket = await _app.AddTankTicketAsync(121);
        Station station = await _app.ReadAsync(db => Task.FromResult(db.Stations.Single()));
        SaveStation.Outcome saved = await _app.Get<SaveStation>().HandleAsync(
            Viewers.Biologist,
            new StationFields
            {
                Id = station.Id, Code = "COP-1", Owner = FormIds.Of(station.OwnerId), Operator = FormIds.Of(station.OperatorId), Created = "2026-06-01T08:00",
                AccessCode = "Gate 4711", KeyHolders = "Yard office; second crew",
            },
            CancellationToken.None);
        for (int day = 1; day <= 6; day++)
        {
            await _app.Databases.AddAsync(new ServiceVisit { StationId = ticket.StationId, Who = $"crew {day}", At = FleetApp.Start.AddDays(-day), Note = $"Looked {day}." });
        }

        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        using PlainBrowser technician = browser;
        PlainBrowser.Page stations = await technician.GoAsync("/work/stations");

        saved.Should().BeOfType<SaveStation.Outcome.Saved>();
        foreach (string words in new[] { stations.Words, (await technician.GoAsync("/tickets/121")).Words })
        {
            words.Should().Contain("Gate 4711").And.Contain("Yard office; second crew").And.Contain("Looked 5.").And.NotContain("Looked 6.");
            words.IndexOf("Looked 1.", StringComparison.Ordinal).Should().BeLessThan(words.IndexOf("Looked 2.", StringComparison.Ordinal));
        }

        (await technician.GoAsync("/tickets/121")).Words.Should().Contain("The water in it weighs about 384 lb (174 kg); drum and sludge come on top.");
        stations.Words.Should().Contain("One station in short.").And.Contain("COP-1 · Dam Road access, Copperline Reservoir");
        (await technician.GoAsync("/work")).Html.Should().Contain("href=\"/work/stations\" data-keep");
        (await technician.GoAsync("/a/dam-road")).Html.Should().NotContain("4711");
        (await _app.Http.GetAsync("/work/stations")).StatusCode.Should().Be(HttpStatusCode.Redirect);
    }
}
