using System.Net;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Validation;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Web.Grants;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Grants;

public sealed class EquipmentTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task Each_required_item_of_record_stands_in_the_register_and_the_place_follows_the_placement()
    {
        Agency owner = await app.Databases.AddAgencyAsync();
        Award award = await app.AddAwardAsync("REG-1", GrantScene.Before2024);
        Access access = await app.Databases.AddAccessAsync("register-ramp");
        Station station = await app.Databases.AddStationAsync("REG-A");
        EquipmentId id = await app.AddItemAsync(GrantScene.Unit("JB-100", owner, award, "REG-A", "7,500"));
        SaveItem.Command part = GrantScene.Unit("JB-101", owner, award, cost: "");
        (part.Unit, part.Description) = ("JB-100", "Battery");
        await app.AddItemAsync(part);

        RegisterItem inTransit = await ItemAsync(id);
        await app.Databases.AddPlacementAsync(station, access);
        IReadOnlyList<RegisterItem> items = await app.Get<ReadRegister>().ItemsAsync(Viewers.Supervisor, CancellationToken.None);
        RegisterItem unit = items.Single(item => item.Tag == "JB-100");
        RegisterItem battery = items.Single(item => item.Tag == "JB-101");

        inTransit.Place.Should().Be("In transit");
        unit.Place.Should().Be("register-ramp, Copperline Reservoir");
        unit.IsEquipment.Should().BeTrue("7,500 is above the older award's 5,000");
        unit.FederalShare.Should().Be(Percentage.Of(60));
        GrantWords.List(unit.Funding).Should().Be("REG-1 60 %; Own money 40 %");
        battery.Should().BeEquivalentTo(new { Unit = (EquipmentId?)id, Place = unit.Place, Cost = (Money?)null, unit.Funding, unit.Owners });
        items.ToList().IndexOf(battery).Should().Be(items.ToList().IndexOf(unit) + 1, "a part stands beneath its unit");
    }

    [Theory]
    [InlineData("Owners", "The shares make 90 %; they must make 100 %.")]
    [InlineData("Funding", "Write each share as a number of percent, such as 60 or 33.33.")]
    [InlineData("Cost", "Write an amount, such as 12,500 or 89.90.")]
    [InlineData("Station", "Choose a station of the list.")]
    [InlineData("Unit", "Choose a unit of the list: a part has no parts of its own.")]
    [InlineData("Acquired", "Write a date, such as 2026-07-04.")]
    [InlineData("Tag", "Write the number on it.")]
    public async Task A_wrong_field_is_told_beside_it(string field, string sentence)
    {
        Agency owner = await app.Databases.AddAgencyAsync();
        Award award = await app.AddAwardAsync($"WRONG-{field}");
        SaveItem.Command item = GrantScene.Unit($"JB-W-{field}", owner, award);
        Action spoil = field switch
        {
            "Owners" => () => item.Owners[owner.Id.Value] = "90",
            "Funding" => () => item.Funding[0] = "the rest",
            "Cost" => () => item.Cost = "a lot",
            "Station" => () => item.Station = "NOWHERE",
            "Unit" => () => item.Unit = "NOTHING",
            "Acquired" => () => item.Acquired = "last spring",
            _ => () => item.Tag = " ",
        };
        spoil();

        (await app.Get<SaveItem>().HandleAsync(Viewers.Supervisor, item, CancellationToken.None))
            .Should().BeOfType<SaveItem.Outcome.Refused>().Which.Wrong[field].Should().Be(sentence);
    }

    [Fact]
    public async Task A_technician_changes_nothing_and_another_agency_does_not_see_it()
    {
        Agency owner = await app.Databases.AddAgencyAsync();
        Agency stranger = await app.Databases.AddAgencyAsync("Sorrel County Parks");
        Award award = await app.AddAwardAsync("SEEN-1");
        EquipmentId id = await app.AddItemAsync(GrantScene.Unit("JB-200", owner, award));

        (await app.Get<SaveItem>().HandleAsync(Viewers.Technician, GrantScene.Unit("JB-201", owner, award), CancellationToken.None))
            .Should().BeOfType<SaveItem.Outcome.NotAllowed>();
        (await app.Get<ReadRegister>().ItemsAsync(Viewers.BiologistOf(stranger.Id), CancellationToken.None)).Should().NotContain(item => item.Id == id);
        (await app.Get<ReadRegister>().ItemsAsync(Viewers.BiologistOf(owner.Id), CancellationToken.None)).Should().Contain(item => item.Id == id);
    }

    [Fact]
    public async Task A_sale_writes_down_what_is_owed_by_the_award_s_own_rules()
    {
        Agency owner = await app.Databases.AddAgencyAsync();
        Award award = await app.AddAwardAsync("OLD-9", GrantScene.Before2024);
        EquipmentId id = await app.AddItemAsync(GrantScene.Unit("JB-300", owner, award));

        DisposeItem.Outcome early = await DisposeAsync(id, "2024-11-04");
        DisposeItem.Outcome done = await DisposeAsync(id, "2026-07-01");

        early.Should().BeOfType<DisposeItem.Outcome.Refused>().Which.Wrong["Day"].Should().Be("It was acquired only on 5 Nov 2024.");
        done.Should().BeOfType<DisposeItem.Outcome.Done>();
        (await ItemAsync(id)).Owed.Should().ContainSingle().Which.Owed.Owed.Should().Be(Money.Of(6_700));
        ReadItem.View view = (await app.Get<ReadItem>().HandleAsync(Viewers.Supervisor, id, CancellationToken.None))!;
        view.Facts.Should().Contain(("Owed to OLD-9", "$6,700. Its value is over the threshold: the share of the proceeds is owed, less what may be kept for selling and handling. 60 % makes $7,200; kept $500."));
        view.Facts.Should().Contain(("Keep its records until", "1 Jul 2029 at least"));
    }

    [Fact]
    public async Task An_inventory_on_the_phone_finds_differences_and_ends_when_each_is_resolved()
    {
        using FleetApp own = new();
        await own.InitializeAsync();
        Agency owner = await own.Databases.AddAgencyAsync();
        Award award = await own.AddAwardAsync("INV-1");
        SaveItem.Command stored = GrantScene.Unit("JB-1", owner, award);
        stored.KeptAt = "Yard";
        EquipmentId first = await own.AddItemAsync(stored);
        EquipmentId second = await own.AddItemAsync(GrantScene.Unit("JB-2", owner, award));
        (_, PlainBrowser crew) = await own.AddBrowserAsync("field crew", FleetRoles.Technician);
        (_, PlainBrowser office) = await own.AddBrowserAsync("supervisor", FleetRoles.Supervisor);
        using (crew)
        using (office)
        {
            (await office.GoAsync("/equipment")).Words.Should().Contain("Two units with no parts cost $36,800; the next inventory is due on 5 Nov 2026.");
            string inventory = (await crew.SendAsync("/equipment/inventory", await crew.GoAsync("/equipment/inventory"), "Begin", "yes")).Location!;
            PlainBrowser.Page list = await crew.GoAsync(inventory);
            list.Words.Should().Contain("Two items are still to see.");
            list.Html.Should().NotContain("blazor.web.js");

            string form = $"/equipment/seen/{first.Value}?inventory=1";
            PlainBrowser.Page empty = await crew.GoAsync(form);
            PlainBrowser.Page refused = await crew.SendAsync(form, empty, "Send", "yes");
            refused.WrongBeside("Seen").Should().Be("Say whether you saw it.");
            (string, string)[] seen = [("Seen", "yes"), ("Place", "Shed"), ("Serial", "V-JB-1"), ("Condition", "Good"), ("Use", "Stored")];
            await crew.SendAsync(form, empty, "Send", "yes", seen);
            await crew.SendAsync(form, empty, "Send", "yes", seen);
            string other = $"/equipment/seen/{second.Value}?inventory=1";
            await crew.SendAsync(other, await crew.GoAsync(other), "Send", "yes", ("Seen", "no"));

            PlainBrowser.Page toResolve = await office.GoAsync(inventory);
            toResolve.Words.Should().Contain("No still to see, two to resolve.").And.Contain("It was seen at Shed; the records have it at Yard.").And.Contain("It was not seen.");
            (await own.Get<InventoryDesk>().FinishAsync(Viewers.Supervisor, 1, CancellationToken.None)).Should().StartWith("It is not finished");
            foreach (int sighting in new[] { 1, 2 })
            {
                (await own.Get<InventoryDesk>().ResolveAsync(Viewers.Technician, 1, sighting, "found", CancellationToken.None)).Should().NotBeNull();
                PlainBrowser.Page sent = await office.SendAsync(
                    inventory, toResolve, "Resolve", $"{sighting}", ($"How-{sighting}", "Moved on 1 July; record corrected."));
                sent.Status.Should().Be(HttpStatusCode.Redirect);
            }

            await office.SendAsync(inventory, await office.GoAsync(inventory), "Finish", "yes");
            (await office.GoAsync(inventory)).Words.Should().Contain("This inventory is finished.");
            (await office.GoAsync("/equipment")).Words.Should().Contain("the next inventory is due on 8 Jul 2028.");
            (await office.GoAsync($"/equipment/{first.Value}")).Words.Should().Contain("Inventory: seen, good, stored, Shed").And.Contain("Resolved: Moved on 1 July; record corrected.");
        }

        await ((IAsyncLifetime)own).DisposeAsync();
    }

    [Fact]
    public async Task The_register_comes_as_a_sound_workbook_and_as_CSV()
    {
        Agency owner = await app.Databases.AddAgencyAsync();
        await app.AddItemAsync(GrantScene.Unit("JB-400", owner, await app.AddAwardAsync("FILE-1")));
        (_, Cookie cookie) = await app.AddSignedInAsync("file supervisor", FleetRoles.Supervisor);
        CookieContainer cookies = new();
        cookies.Add(app.Address, new Cookie(cookie.Name, cookie.Value, "/"));
        using HttpClient http = new(new HttpClientHandler { CookieContainer = cookies }) { BaseAddress = app.Address };

        string csv = await http.GetStringAsync("/equipment/register.csv");
        using SpreadsheetDocument workbook = SpreadsheetDocument.Open(await http.GetStreamAsync("/equipment/register.xlsx").ContinueWith(read => Copy(read.Result)), false);

        csv.Should().Contain("JB-400,,Cleaning station,Invented Works WS-4,V-JB-400,FILE-1 60 %; Own money 40 %,Juniper Basin Watershed District,2024-11-05,18400,0.6,yes,");
        new OpenXmlValidator().Validate(workbook).Should().BeEmpty();
        (await http.GetStringAsync("/equipment/register.csv")).Should().Be(csv);
    }

    private static MemoryStream Copy(Stream stream)
    {
        MemoryStream copy = new();
        stream.CopyTo(copy);
        return copy;
    }

    private async Task<RegisterItem> ItemAsync(EquipmentId id) =>
        (await app.Get<ReadRegister>().ItemsAsync(Viewers.Supervisor, CancellationToken.None)).Single(item => item.Id == id);

    private Task<DisposeItem.Outcome> DisposeAsync(EquipmentId id, string day) => app.Get<DisposeItem>().HandleAsync(
        Viewers.Supervisor,
        new DisposeItem.Command { Id = id, Day = day, Method = "Sold", SalePrice = "12,000", FairMarketValue = "12000", Note = "To a farm, at auction." },
        CancellationToken.None);
}
