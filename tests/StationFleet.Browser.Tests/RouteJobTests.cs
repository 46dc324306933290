using Microsoft.Playwright;
using StationFleet.Storage.Accounts;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A biologist plans tomorrow for the field crew, leaves a stop out, takes it in again, sets the day, and prints it on one page.</summary>
[Collection(FortnightTests.Name)]
public sealed class RouteJobTests(Fortnight fleet)
{
    [Fact]
    public async Task A_day_is_planned_changed_set_and_printed_on_one_page()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(page, $"/route?day={fleet.App.Clock.GetUtcNow().AddDays(1):yyyy-MM-dd}");
        ILocator stops = page.Locator(".route-stops > li:not(.end)");
        int before = await stops.CountAsync();
        before.Should().BePositive();
        await page.GetByRole(AriaRole.Combobox, new() { Name = "Whose day" }).SelectOptionAsync(new SelectOptionValue { Label = "Field crew" });
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan anew" }).ClickAsync();
        await page.Locator(".shell[data-live]").WaitForAsync();
        int own = await stops.CountAsync();

        await stops.First.GetByRole(AriaRole.Link, new() { Name = "Leave it out" }).ClickAsync();
        await Expect(stops).ToHaveCountAsync(own - 1);
        await Expect(page.GetByText("Left out by choice.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Take it in" }).First.ClickAsync();
        await Expect(stops).ToHaveCountAsync(own);
        await page.GetByRole(AriaRole.Button, new() { Name = "Set this day" }).ClickAsync();

        await Expect(page.GetByText("Set by District biologist")).ToBeVisibleAsync();
        Pages(await page.PdfAsync(new PagePdfOptions { Format = "Letter" })).Should().Be(1);
        Pages(await page.PdfAsync(new PagePdfOptions { Format = "A4" })).Should().Be(1);
    }

    // Each page of a PDF is an object of the type Page.
    private static int Pages(byte[] pdf) =>
        System.Text.RegularExpressions.Regex.Count(System.Text.Encoding.Latin1.GetString(pdf), @"/Type\s*/Page\b");
}
