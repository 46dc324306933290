using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>The biologist tries limits on the season so far, looks at a picture, and saves them.</summary>
[Collection(FortnightTests.Name)]
public sealed class TryRulesTests(Fortnight fleet)
{
    [Theory]
    [InlineData(false, "61")]
    [InlineData(true, "62")]
    public async Task Limits_are_tried_on_the_season_so_far_and_then_saved(bool onPhoneInTheDark, string share)
    {
        (StationId station, string code) = await StationOfAsync(Rule.TankFilling);
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist, onPhoneInTheDark ? Fortnight.Phone(dark: true) : Fortnight.Desktop());
        await fleet.OpenAsync(page, "/rules");
        await page.GetByRole(AriaRole.Button, new() { Name = $"Change {code}" }).ClickAsync();
        await page.GetByLabel("Tank ticket, %").FillAsync(share);

        await page.GetByRole(AriaRole.Button, new() { Name = "Try them" }).ClickAsync();

        await Expect(page.Locator(".try-limits [role=status]")).ToContainTextAsync("With the new limits the season so far would have brought");
        await Expect(page.Locator(".tried tbody tr").First).ToContainTextAsync("Tank filling");
        ILocator picture = page.GetByRole(AriaRole.Button, new() { Name = "Show picture of ticket 1, Tank filling" });
        await picture.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".tried x-chart svg")).ToBeVisibleAsync();
        (await AccessibilityTests.FaultsAsync(page, "/rules with a trial")).Should().BeEmpty();

        await page.GetByLabel("Why").FillAsync("The hauler needs three days.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the limits" }).ClickAsync();
        await Expect(page.GetByText("Saved.")).ToBeVisibleAsync();
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        StationRules saved = await db.StationRules.SingleAsync(rules => rules.StationId == station);
        saved.Settings.TankRaiseShare.Should().BeApproximately(onPhoneInTheDark ? 0.62 : 0.61, 1e-9);
    }

    private async Task<(StationId Id, string Code)> StationOfAsync(Rule rule)
    {
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        StationId id = (await db.Tickets.Where(ticket => ticket.Rule == rule).OrderBy(ticket => ticket.Number).FirstAsync()).StationId;
        return (id, (await db.Stations.SingleAsync(station => station.Id == id)).Code);
    }
}
