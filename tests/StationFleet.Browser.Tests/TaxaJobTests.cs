using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>
/// The biologist puts a plant on the list, says from which water it is known and whom to tell of new ones, and writes down what was
/// picked out of a jar; what is typed wrong gets its sentence, and the next find elsewhere is a new one.
/// </summary>
public sealed class TaxaJobTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Password = "weed and lake water 7";

    [Fact]
    public async Task A_plant_goes_from_the_list_to_the_jar()
    {
        Access access = await app.Databases.AddAccessAsync();
        Station station = await app.Databases.AddStationAsync("COP-1");
        await app.Databases.AddPlacementAsync(station, access);
        await app.AddPersonAsync("biologist@juniper-basin.example", Password, FleetRoles.Biologist);
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Chromium.LaunchAsync(playwright);
        IPage page = await (await browser.NewContextAsync(Fortnight.Desktop())).NewPageAsync();
        string url = app.Address.ToString().TrimEnd('/').Replace("127.0.0.1", "localhost", StringComparison.Ordinal);
        await page.GotoAsync($"{url}/sign-in");
        await page.GetByLabel("E-mail").FillAsync("biologist@juniper-basin.example");
        await page.GetByLabel("Password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(address => !address.Contains("sign-in", StringComparison.Ordinal));

        await OpenAsync("/samples/taxa");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a kind" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByText("Write what people call it.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Choose a letter, a to z, that counts it at the bench.")).ToBeVisibleAsync();
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Curly-leaf pondweed");
        await page.GetByLabel("Scientific name").FillAsync("Potamogeton crispus");
        await page.GetByLabel("Kingdom").FillAsync("Plantae");
        await page.GetByLabel("Looked for", new() { Exact = true }).SelectOptionAsync(nameof(CountedAs.Pieces));
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        ILocator row = page.GetByRole(AriaRole.Row).Filter(new() { HasText = "Curly-leaf pondweed" });
        await Expect(row).ToContainTextAsync("by eye");

        await row.GetByText("Known from…").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByText("Choose a water of the list.")).ToBeVisibleAsync();
        await page.GetByLabel("is known from").SelectOptionAsync("Copperline Reservoir");
        await page.GetByLabel("Since").FillAsync("2024-07-01");
        await page.GetByLabel("Who says so").FillAsync("plant survey");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(row).ToContainTextAsync("Copperline Reservoir since 1 Jul 2024");

        await page.GotoAsync($"{url}/samples/take?station=COP-1");
        await page.GetByText("Plants or snails were picked out").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Taken: give the codes" }).ClickAsync();
        await Expect(page.GetByText("COP-1-260708-PIECES").First).ToBeVisibleAsync();
        await OpenAsync("/samples/COP-1-260708-PIECES");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write down Curly-leaf pondweed" }).ClickAsync();
        await page.GetByLabel("Pieces").FillAsync("some");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByText("Say whether it was there.")).ToBeVisibleAsync();
        await page.GetByLabel("there?").SelectOptionAsync("yes");
        await page.GetByLabel("Pieces").FillAsync("3");
        await page.GetByLabel("Wet weight, g").FillAsync("4.5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Row).Filter(new() { HasText = "Curly-leaf pondweed" })).ToContainTextAsync("present");

        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        PieceFind find = await db.PieceFinds.AsNoTracking().SingleAsync();
        (find.IsPresent, find.Pieces, find.WeightG).Should().Be((true, 3, 4.5));
        (await db.NewFinds.CountAsync()).Should().Be(0, "it is known from that water");

        // Taken back from the water, the same find corrected is a new one.
        await OpenAsync("/samples/taxa");
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove Copperline Reservoir of Curly-leaf pondweed" }).ClickAsync();
        await Expect(row).ToContainTextAsync("none of our waters");
        await OpenAsync("/samples/COP-1-260708-PIECES");
        await page.GetByRole(AriaRole.Button, new() { Name = "Correct Curly-leaf pondweed" }).ClickAsync();
        await page.GetByLabel("Pieces").FillAsync("12");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Row).Filter(new() { HasText = "Curly-leaf pondweed" })).ToContainTextAsync("12");
        (await db.NewFinds.CountAsync()).Should().Be(1);

        async Task OpenAsync(string path)
        {
            await page.GotoAsync(url + path);
            await page.Locator(".shell[data-live]").WaitForAsync();
        }
    }
}
