using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>The technician takes three grabs on a phone without script; the biologist counts one by keys, and a crash loses no count.</summary>
[Collection(FortnightTests.Name)]
public sealed class SampleJobTests(Fortnight fleet)
{
    [Fact]
    public async Task A_sample_goes_from_the_tank_to_its_count()
    {
        IPage phone = await fleet.SignedInAsync(FleetRoles.Technician, Fortnight.Phone(script: false));
        await phone.GotoAsync($"{fleet.Url}/samples/take?station=OTT-1");
        await phone.GetByLabel("Litres in grab A").FillAsync("10");
        await phone.GetByLabel("Litres in grab B").FillAsync("10");
        await phone.GetByText("Each from a dip of its own: replicates").ClickAsync();
        await phone.GetByLabel("Mesh, µm").FillAsync("64");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Taken: give the codes" }).ClickAsync();
        await Expect(phone.GetByRole(AriaRole.Status)).ToContainTextAsync("OTT-1-260708-A");

        IPage bench = await fleet.SignedInAsync(FleetRoles.Biologist);
        await bench.GotoAsync($"{fleet.Url}/samples/OTT-1-260708-A/count");
        ILocator veligers = bench.GetByLabel("Count of Quagga mussel, veliger");
        ILocator eggs = bench.GetByLabel("Count of Spiny waterflea, resting egg");
        await Expect(bench.Locator("[data-tally-line]")).ToBeVisibleAsync();
        await bench.Locator("h1").ClickAsync();
        await bench.Keyboard.TypeAsync("qqqq");
        await bench.Keyboard.PressAsync("Shift+S");
        await bench.Keyboard.PressAsync("Backspace");
        await bench.Keyboard.PressAsync("Backspace");
        await Expect(veligers).ToHaveValueAsync("3");
        await Expect(eggs).ToHaveValueAsync("0");

        // The browser is closed in the middle of it, and opened again.
        await bench.ReloadAsync();
        await Expect(veligers).ToHaveValueAsync("3");
        await bench.Locator("h1").ClickAsync();
        await bench.Keyboard.TypeAsync("q");
        await bench.GetByRole(AriaRole.Button, new() { Name = "Zero for all empty ones" }).ClickAsync();
        await bench.GetByLabel("Concentrate, mL").FillAsync("50");
        await bench.GetByLabel("Looked through, mL").FillAsync("5");
        await bench.GetByRole(AriaRole.Button, new() { Name = "Save the count" }).ClickAsync();
        await Expect(bench.GetByText("Saved.")).ToBeVisibleAsync();
        await Expect(veligers).ToHaveValueAsync("", new() { Timeout = 5000 });

        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        var counts = await (
            from count in db.AliquotCounts
            join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
            join sample in db.Samples on aliquot.SampleId equals sample.Id
            where sample.Code == "OTT-1-260708-A"
            select count.Count).ToListAsync();
        counts.OrderByDescending(count => count).Should().Equal(4, 0, 0, 0);
        (await db.NewFinds.CountAsync(find => find.Water == "Otter Bend Lake")).Should().Be(1, "quagga mussels are not known from there");
    }
}
