using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Tests.Service;

public sealed class WorkPageTests : IAsyncLifetime, IDisposable
{
    // Lists show all tickets, so each test has a fleet of its own.
    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Without_tickets_there_is_nothing_to_do()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        (await browser.GoAsync("/work")).Words.Should().Contain("Nothing to do.");
    }

    [Fact]
    public async Task One_tap_takes_a_ticket_and_it_moves_to_the_top()
    {
        (FleetUser person, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        await _app.AddTankTicketAsync(121, "COP-1");
        await _app.AddTankTicketAsync(122, "COP-2");
        PlainBrowser.Page page = await browser.GoAsync("/work");

        PlainBrowser.Page answer = await browser.SendAsync("/work", page, "Take", TakeValue(page, 122));
        PlainBrowser.Page after = await browser.GoAsync("/work");

        page.Words.Should().Contain("Nothing of yours; two to take.");
        page.Html.Should().NotContain("blazor.web.js");
        answer.Location.Should().EndWith("/work?taken=122");
        after.Words.Should().Contain("One ticket is yours, one to take.");
        after.Words.IndexOf("T-122", StringComparison.Ordinal).Should().BeLessThan(after.Words.IndexOf("T-121", StringComparison.Ordinal));
        (await _app.TicketAsync(122)).TakenById.Should().Be(person.Id);
    }

    [Fact]
    public async Task Two_tickets_can_be_taken_from_one_page_and_one_ticket_only_once()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        await _app.AddTankTicketAsync(121, "COP-1");
        await _app.AddTankTicketAsync(122, "COP-2");
        PlainBrowser.Page page = await browser.GoAsync("/work");

        await browser.SendAsync("/work", page, "Take", TakeValue(page, 121));
        await browser.SendAsync("/work", page, "Take", TakeValue(page, 122));
        await browser.SendAsync("/work", page, "Take", TakeValue(page, 122));

        (await _app.TicketAsync(121)).State.Should().Be(TicketState.Taken);
        (await _app.TicketAsync(122)).State.Should().Be(TicketState.Taken);
        (await _app.EventsAsync(122)).Should().HaveCount(2);
    }

    [Fact]
    public async Task A_ticket_that_somebody_took_meanwhile_is_told()
    {
        (FleetUser person, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        await _app.AddTankTicketAsync(121);
        (_, PlainBrowser other) = await _app.AddBrowserAsync("second crew", FleetRoles.Technician);
        PlainBrowser.Page page = await browser.GoAsync("/work");
        PlainBrowser.Page theirs = await other.GoAsync("/work");
        await other.SendAsync("/work", theirs, "Take", TakeValue(theirs, 121));

        PlainBrowser.Page answer = await browser.SendAsync("/work", page, "Take", TakeValue(page, 121));

        answer.Words.Should().Contain("T-121 was not taken: second crew took it today 07:05.");
        (await _app.TicketAsync(121)).TakenById.Should().NotBe(person.Id);
    }

    private static string TakeValue(PlainBrowser.Page page, int number) =>
        System.Text.RegularExpressions.Regex.Match(page.Html, $"name=\"Take\" value=\"({number} [^\"]*)\"").Groups[1].Value;
}
