using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Routes;
using StationFleet.Storage.Watch;
using StationFleet.Web.Watch;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>
/// The biologist accepts the season's calendar; the watch tells when its sample falls due; it is a stop of the day; the technician takes
/// it on a phone, and its ticket is done. The tank was pumped out on 11 July of last year.
/// </summary>
public sealed class SampleDueJobTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Password = "weed and lake water 7";

    [Fact]
    public async Task A_planned_sample_falls_due_is_driven_to_and_is_done_when_it_is_recorded()
    {
        await PrepareAsync();
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Chromium.LaunchAsync(playwright);
        IPage office = await SignInAsync(browser, "biologist@juniper-basin.example", Fortnight.Desktop());

        await OpenAsync(office, "/samples/plan");
        await office.GetByLabel("Budget of the season").FillAsync("1");
        await office.GetByLabel("One tank’s sample costs").FillAsync("1");
        await office.GetByRole(AriaRole.Button, new() { Name = "Plan", Exact = true }).ClickAsync();
        await Expect(office.GetByRole(AriaRole.Row).Filter(new() { HasText = "Fri 10 Jul" })).ToContainTextAsync("COP-1");
        await office.GetByLabel("Litres in each").FillAsync("10");
        await office.GetByRole(AriaRole.Button, new() { Name = "Accept the calendar" }).ClickAsync();
        await Expect(office.GetByText("One sample is planned.")).ToBeVisibleAsync();
        await office.GetByRole(AriaRole.Button, new() { Name = "Accept the calendar" }).ClickAsync();
        await Expect(office.GetByText("All of it was planned before.")).ToBeVisibleAsync();

        await WatchAsync(TimeSpan.FromHours(1));
        await OpenAsync(office, "/");
        await Expect(office.Locator("aside[aria-labelledby=coming]"))
            .ToContainTextAsync("A tank sample, three grabs of 10 L, planned for Wednesday 8 July to Friday 10 July. Take it before the next pump-out.");
        await Expect(office.Locator(".week")).ToContainTextAsync("sample due");

        await WatchAsync(TimeSpan.FromHours(20));
        await OpenAsync(office, "/");
        await Expect(office.Locator(".need li").First).ToContainTextAsync("A tank sample, three grabs of 10 L");
        await OpenAsync(office, "/route?day=2026-07-10");
        await Expect(office.Locator(".route-stops")).ToContainTextAsync("A tank sample, three grabs of 10 L");
        await Expect(office.Locator("main")).ToContainTextAsync("Mesh net");

        Ticket ticket = await TicketAsync();
        ticket.State.Should().Be(TicketState.New);
        IPage phone = await SignInAsync(browser, "crew@juniper-basin.example", Fortnight.Phone(script: false));
        await phone.GotoAsync($"{Url}/tickets/{ticket.Number}");
        await Expect(phone.Locator(".beware")).ToContainTextAsync("Ethanol burns");
        await Expect(phone.Locator("main")).ToContainTextAsync("Record it with «Take a sample»");
        await phone.GotoAsync($"{Url}/samples/take?station=COP-1");
        foreach (string grab in new[] { "A", "B", "C" })
        {
            await phone.GetByLabel($"Litres in grab {grab}").FillAsync("10");
        }

        await phone.GetByText("Each from a dip of its own: replicates").ClickAsync();
        await phone.GetByRole(AriaRole.Button, new() { Name = "Taken: give the codes" }).ClickAsync();
        await Expect(phone.GetByRole(AriaRole.Status)).ToContainTextAsync("COP-1-260709-C");

        await WatchAsync(TimeSpan.FromMinutes(5));
        (await TicketAsync()).Should().Match<Ticket>(row => row.State == TicketState.Closed && row.Outcome == TicketOutcome.ClearedByItself);
        await OpenAsync(office, "/");
        await Expect(office.Locator("main")).Not.ToContainTextAsync("A tank sample");
        await Expect(office.Locator(".week")).Not.ToContainTextAsync("sample");
        await OpenAsync(office, "/samples/planned");
        await Expect(office.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("No sample is planned any more this year.");
        await Expect(office.GetByRole(AriaRole.Row).Filter(new() { HasText = "COP-1" })).ToContainTextAsync("taken");
    }

    [Fact]
    public async Task A_planned_sample_is_changed_and_dismissed_with_a_reason()
    {
        await PrepareAsync();
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Chromium.LaunchAsync(playwright);
        IPage page = await SignInAsync(browser, "biologist@juniper-basin.example", Fortnight.Desktop());
        await OpenAsync(page, "/samples/planned");

        await page.GetByRole(AriaRole.Button, new() { Name = "Plan a sample" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await Expect(page.GetByText("Choose the station.")).ToBeVisibleAsync();
        await page.GetByLabel("Station").SelectOptionAsync("COP-2");
        await page.GetByLabel("From").FillAsync("2026-08-03");
        await page.GetByLabel("Take it by").FillAsync("2026-08-01");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await Expect(page.GetByText("Write the first day itself or one up to 60 days after it.")).ToBeVisibleAsync();
        await page.GetByLabel("Take it by").FillAsync("2026-08-09");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        ILocator row = page.GetByRole(AriaRole.Row).Filter(new() { HasText = "COP-2" });
        await Expect(row).ToContainTextAsync("Mon 3 Aug to Sun 9 Aug");

        await row.GetByText("Change").ClickAsync();
        await page.GetByLabel("Grabs").FillAsync("4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(row).ToContainTextAsync("four grabs");

        await row.GetByText("Dismiss").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Dismiss", Exact = true }).ClickAsync();
        await Expect(page.GetByText("Write why, for whoever wonders later.")).ToBeVisibleAsync();
        await page.GetByLabel("is not needed").FillAsync("The tank is drained for repair.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Dismiss", Exact = true }).ClickAsync();
        await Expect(row).ToContainTextAsync("dismissed by");
        await Expect(row).ToContainTextAsync("The tank is drained for repair.");
    }

    private string Url => app.Address.ToString().TrimEnd('/').Replace("127.0.0.1", "localhost", StringComparison.Ordinal);

    private async Task PrepareAsync()
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        if (await db.Stations.AnyAsync())
        {
            return;
        }

        await app.AddPersonAsync("biologist@juniper-basin.example", Password, FleetRoles.Biologist);
        await app.AddPersonAsync("crew@juniper-basin.example", Password, FleetRoles.Technician);
        await app.Databases.AddAsync(new Yard { Name = "District yard", Latitude = 44.40, Longitude = -115.20 });
        Access access = await app.Databases.AddAccessAsync();
        foreach (string code in new[] { "COP-1", "COP-2" })
        {
            Station station = await app.Databases.AddStationAsync(code);
            await app.Databases.AddPlacementAsync(station, access);
            await app.Databases.AddAsync(new StationTank { StationId = station.Id, From = station.Created, CapacityLitres = 208 });
            await app.Databases.AddAsync(WatchPosition.StartingAt(station.Id, FleetApp.Start));
        }

        Station first = await db.Stations.SingleAsync(station => station.Code == "COP-1");
        foreach (int day in new[] { 1, 11 })
        {
            await app.Databases.AddAsync(new PumpOut
            {
                StationId = first.Id, At = new DateTimeOffset(2025, 7, day, 18, 0, 0, TimeSpan.Zero), Litres = 150, Source = PumpOutSource.Visit,
            });
        }
    }

    private async Task WatchAsync(TimeSpan time)
    {
        app.Clock.Advance(time);
        (await app.Get<RunWatch>().HandleAsync(CancellationToken.None)).Failed.Should().Be(0);
    }

    private async Task<Ticket> TicketAsync()
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        return await db.Tickets.AsNoTracking().SingleAsync(ticket => ticket.Rule == Rule.SampleDue);
    }

    private async Task<IPage> SignInAsync(IBrowser browser, string email, BrowserNewContextOptions options)
    {
        IPage page = await (await browser.NewContextAsync(options)).NewPageAsync();
        await page.GotoAsync($"{Url}/sign-in");
        await page.GetByLabel("E-mail").FillAsync(email);
        await page.GetByLabel("Password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        return page;
    }

    private async Task OpenAsync(IPage page, string path)
    {
        await page.GotoAsync(Url + path);
        await page.Locator(".shell[data-live]").WaitForAsync();
    }
}
