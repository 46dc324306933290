using System.Globalization;
using System.Text;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using StationFleet.Storage.Accounts;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A card's file, from the technician's phone to the list of files.</summary>
[Collection(FortnightTests.Name)]
public sealed class LoggerFileTests(Fortnight fleet)
{
    [Fact]
    public async Task A_technician_brings_a_card_by_keyboard_corrects_the_clock_and_reads_what_became_of_it()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Technician, Fortnight.Phone());
        await ChooseAsync(page, "OTT-1", Table(40));

        await Expect(page.Locator(".lead")).ToHaveTextAsync("80 readings of two series, 20 June 06:07 to 20 June 15:52; none is known yet.");
        await page.Locator("summary", new() { HasText = "Read it otherwise" }).PressAsync("Enter");
        await page.GetByLabel("The logger's clock goes by").FillAsync("Nowhere");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Write a time zone such as America/Boise");
        await page.GetByLabel("The logger's clock goes by").FillAsync("-07:00");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator(".lead")).ToContainTextAsync("20 June 07:07 to 20 June 16:52");
        (await page.RunAxe()).Violations.Should().BeEmpty();
        (await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth")).Should().Be(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Import 80 new readings" }).PressAsync("Enter");

        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("80 readings of card.csv are new for OTT-1.");
        await Expect(page.Locator(".facts")).ToContainTextAsync("by Field crew; source: logger file");
        (await page.RunAxe()).Violations.Should().BeEmpty();

        await fleet.OpenAsync(page, "/office/logger-files");
        await Expect(page.GetByRole(AriaRole.Row, new() { Name = "card.csv" }).First).ToContainTextAsync("Field crew");
        await ChooseAsync(page, "OTT-1", Table(41));
        await Expect(page.Locator(".lead")).ToContainTextAsync("82 readings of two series, 20 June 07:07 to 20 June 17:07; 80 are already known.");
        await Expect(page.GetByText("Read as the last file of OTT-1 with the same columns.")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_long_import_shows_how_far_it_is_and_can_be_stopped()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await ChooseAsync(page, "SOR-1", Table(60_000));

        await page.GetByRole(AriaRole.Button, new() { Name = "new readings" }).ClickAsync(new() { Timeout = 60_000 });
        await Expect(page.GetByText("It goes on when you leave this page.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop it" }).ClickAsync();

        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("The import of card.csv was stopped.", new() { Timeout = 30_000 });
        await Expect(page.GetByText("What was stored stays. Import the file again")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_file_that_holds_no_readings_is_shown_as_it_is()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);

        await ChooseAsync(page, "COP-2", "a shopping list\nbread\ncheese");

        await Expect(page.GetByText("No line of this file holds a time and a number")).ToBeVisibleAsync();
        await Expect(page.Locator(".lines")).ToContainTextAsync("cheese");
    }

    private async Task ChooseAsync(IPage page, string station, string content)
    {
        await fleet.OpenAsync(page, "/office/logger-files");
        await page.GetByLabel("Whose logger is it?").SelectOptionAsync(station);
        await page.Locator("#file").SetInputFilesAsync(new FilePayload { Name = "card.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(content) });
    }

    // Quarters of an hour after 20 June 06:07, or before it when there are many: off the times at which stations report.
    private static string Table(int lines)
    {
        DateTime first = new(2026, 6, 20, 6, 7, 0, DateTimeKind.Unspecified);
        double step = lines > 1000 ? -7 : 15;
        return string.Join('\n', Enumerable.Range(0, lines)
            .Select(i => string.Create(CultureInfo.InvariantCulture, $"{first.AddMinutes(step * i):M/d/yyyy h:mm tt},{12.5 + (i % 7 * 0.01):0.00},{18 + (i % 30 * 0.1):0.0}"))
            .Prepend("Logged at,Battery voltage (V),Water temp (°C)"));
    }
}
