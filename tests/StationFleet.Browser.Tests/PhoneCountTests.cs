using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A steward counts at a ramp without signal, with a browser that is closed in between.</summary>
public sealed class PhoneCountTests : IAsyncLifetime
{
    private const string Steward = "steward@juniper-basin.example";

    private FleetApp App { get; } = new();
    private PhoneInTheField _phone = null!;

    private ILocator Leaving => _phone.Page.Locator("[name=BoatsLeaving]");

    public async Task InitializeAsync()
    {
        await App.InitializeAsync();
        Station station = await App.Databases.AddStationAsync("COP-1");
        await App.Databases.AddPlacementAsync(station, await App.Databases.AddAccessAsync());
        await App.Databases.AddToolAsync(station, "vacuum");
        await App.AddPersonAsync(Steward, PhoneInTheField.Password, FleetRoles.Steward);
        _phone = await PhoneInTheField.OpenAsync(App);
        await _phone.SignInAsync(Steward);
        await _phone.Page.GotoAsync($"{_phone.Url}/count");
        await _phone.WaitAsync(
            "(await navigator.serviceWorker.ready).active && (await (await caches.open('phone-assets')).keys()).some(one => one.url.includes('/icon-192'))"
            + " && (await (await caches.open('phone-pages')).keys()).some(one => new URL(one.url).pathname === '/count/COP-1')");
    }

    public async Task DisposeAsync()
    {
        await _phone.DisposeAsync();
        await ((IAsyncLifetime)App).DisposeAsync();
    }

    [Fact]
    public async Task A_tally_without_signal_outlives_the_browser_and_arrives_once_with_the_times_of_the_counting()
    {
        _phone.Wire.Set(Wire.Mood.Down);
        await _phone.Page.GotoAsync($"{_phone.Url}/count");
        await _phone.Page.GetByRole(AriaRole.Link, new() { Name = "COP-1" }).ClickAsync();
        await PressAsync("One more: Boats leaving the water", 6);
        await PressAsync("One less: Boats leaving the water", 2);
        await PressAsync("Undo", 1);
        await PressAsync("One more: Of these, used the station", 2);
        await PressAsync("One more: vacuum", 3);
        await Expect(Leaving).ToHaveValueAsync("5");

        await _phone.RestartAsync();
        _phone.Wire.Set(Wire.Mood.Down);
        await _phone.Page.GotoAsync($"{_phone.Url}/count/COP-1");
        await Expect(_phone.Page.GetByText("What you counted before is back; it is not saved yet.")).ToBeVisibleAsync();
        await Expect(Leaving).ToHaveValueAsync("5");
        await PressAsync("One more: Boats leaving the water", 1);
        await _phone.Page.EvaluateAsync("() => { const button = document.querySelector('form[data-queue=count] button[value=count]'); button.click(); button.click(); }");
        await _phone.WaitAsync("(await phoneQueue.all()).some(entry => entry.kind === 'count') && localStorage.getItem('tally count COP-1') === null");
        await _phone.Page.EvaluateAsync("async () => { const [entry] = await phoneQueue.all(); await phoneQueue.keep({ ...entry, pressed: entry.pressed - 3_600_000 }); }");

        await _phone.RestartAsync();
        _phone.Wire.Set(Wire.Mood.Deaf);
        await _phone.Page.GotoAsync($"{_phone.Url}/count/COP-1");
        await Expect(_phone.Page.Locator("form[data-queue=count]")).ToBeVisibleAsync();
        await Expect(Leaving).ToHaveValueAsync("");
        _phone.Wire.Set(Wire.Mood.Up);
        await _phone.Page.GotoAsync($"{_phone.Url}/count");

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        CountShiftRow shift = (await App.ReadAsync(db => db.CountShifts.ToArrayAsync())).Should().ContainSingle().Which;
        (shift.BoatsLeaving, shift.BoatsAtStation).Should().Be((6, 2));
        shift.To.Should().BeCloseTo(FleetApp.Start.AddHours(-1), TimeSpan.FromSeconds(90));
        (shift.To - shift.From).Should().BeGreaterThan(TimeSpan.Zero).And.BeLessThan(TimeSpan.FromMinutes(3));
        (await App.ReadAsync(db => db.CountedToolUses.ToArrayAsync())).Should().ContainSingle().Which.Uses.Should().Be(3);
    }

    [Fact]
    public async Task A_count_that_the_server_cannot_take_comes_back_with_all_that_was_counted()
    {
        await _phone.Page.GotoAsync($"{_phone.Url}/count/COP-1");
        await PressAsync("One more: Boats leaving the water", 1);
        await PressAsync("One more: Of these, used the station", 2);
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Done: send the count" }).ClickAsync();

        await Expect(_phone.Page.GetByText("More boats used the station than left (1).")).ToBeVisibleAsync();
        await Expect(_phone.Page.Locator("[name=BoatsAtStation]")).ToHaveValueAsync("2");
        (await App.ReadAsync(db => db.CountShifts.CountAsync())).Should().Be(0);
        await Leaving.FillAsync("4");
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Done: send the count" }).ClickAsync();

        await Expect(_phone.Page.GetByText("Thank you: it is counted.")).ToBeVisibleAsync();
        (await App.ReadAsync(db => db.CountShifts.ToArrayAsync())).Should().ContainSingle().Which.BoatsLeaving.Should().Be(4);
    }

    private async Task PressAsync(string button, int times)
    {
        for (int i = 0; i < times; i++)
        {
            await _phone.Page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync();
        }
    }
}
