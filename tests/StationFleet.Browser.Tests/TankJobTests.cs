using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A biologist describes a tank in the Office, sees what it would hold, and sets its sensor right.</summary>
[Collection(FortnightTests.Name)]
public sealed class TankJobTests(Fortnight fleet)
{
    [Fact]
    public async Task A_tank_is_drawn_and_its_gallons_are_told_before_it_is_saved_and_its_sensor_is_set_right_after()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(page, "/office/stations/PORT-A");
        await page.GetByRole(AriaRole.Button, new() { Name = "Another tank from a date on" }).ClickAsync();
        ILocator form = page.GetByRole(AriaRole.Form, new() { Name = "New tank" });
        await form.GetByLabel("From").FillAsync("2026-07-01T08:00");
        await form.GetByLabel("Full at, gal").FillAsync("58");
        await form.GetByLabel("Shape").SelectOptionAsync("standing");
        await form.GetByLabel("Diameter, in").FillAsync("22.5");
        await form.GetByLabel("Height to the brim, in").FillAsync("33.5");

        await form.GetByRole(AriaRole.Button, new() { Name = "Set up the tank" }).ClickAsync();
        await Expect(form.GetByText("holds 57.7 gal to the brim: full cannot be more.")).ToBeVisibleAsync();
        await form.GetByLabel("Full at, gal").FillAsync("55");
        await form.GetByLabel("Full at, gal").BlurAsync();

        await Expect(form.Locator("figcaption")).ToHaveTextAsync(
            "At 8 in 13.8 gal, at 16 in 27.5 gal, at 24 in 41.3 gal; full at 55 gal, 31.95 in high; 57.7 gal to the brim.");
        await Expect(form.Locator("svg.tank-drawing")).ToHaveAttributeAsync("aria-label", "The tank from the side, 33.5 in high, ⌀ 22.5 in; full at 31.95 in.");
        await form.GetByRole(AriaRole.Button, new() { Name = "Set up the tank" }).ClickAsync();
        await Expect(page.GetByText("standing, ⌀ 22.5 × 33.5 in")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Calibrate with two readings" }).ClickAsync();
        ILocator calibration = page.GetByRole(AriaRole.Form, new() { Name = "New calibration" });
        await calibration.GetByLabel("From").FillAsync("2026-07-02T08:00");
        await calibration.GetByLabel("Nearly empty: it said, in").FillAsync("2");
        await calibration.GetByLabel("True level above the bottom, in").First.FillAsync("2.5");
        await calibration.GetByLabel("Nearly full: it said, in").FillAsync("30");
        await calibration.GetByLabel("True level above the bottom, in").Last.FillAsync("30.5");
        await calibration.GetByRole(AriaRole.Button, new() { Name = "Set it right" }).ClickAsync();

        await Expect(page.GetByText("What was 27.5 gal is 28.4 gal.")).ToBeVisibleAsync();
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        StationTank tank = (await db.StationTanks.Where(row => db.Stations.Any(s => s.Id == row.StationId && s.Code == "PORT-A"))
            .OrderBy(row => row.From).ToListAsync())[^1];
        tank.Shape.Should().Be(new VerticalCylinder(22.5 * 0.0254, 33.5 * 0.0254));
    }
}
