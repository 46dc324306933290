using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Tests.Service;

public sealed class DoneAtTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task A_time_left_as_it_was_shown_means_the_moment_of_sending()
    {
        await app.AddTankTicketAsync(121);
        (_, PlainBrowser browser) = await app.AddBrowserAsync("field crew", FleetRoles.Technician);
        PlainBrowser.Page page = await browser.GoAsync("/tickets/121");
        app.Clock.Advance(TimeSpan.FromMinutes(50));

        await browser.SendAsync("/tickets/121", page, "Act", "close", ("Outcome", "Fixed"), ("DoneAt", page.Field("DoneAt")));

        page.Field("DoneAt").Should().Be("2026-07-08T07:05");
        (await app.TicketAsync(121)).DoneAt.Should().Be(FleetApp.Start.AddMinutes(50));
    }
}
