using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>Forms other than a ticket's go through the phone's queue too: the one at the tank, and a checklist that somebody signs.</summary>
public sealed class PhoneFormsTests : IAsyncLifetime
{
    private const string Crew = "crew@juniper-basin.example";

    private FleetApp App { get; } = new();
    private PhoneInTheField _phone = null!;

    private ILocator Line => _phone.Page.Locator("[data-kept-line]");

    public async Task InitializeAsync()
    {
        await App.InitializeAsync();
        await App.AddTankTicketAsync(7, "COP-1");
        await PhoneInTheField.AddTechnicianAsync(App, Crew);
        _phone = await PhoneInTheField.OpenAsync(App);
        await _phone.SignInAsync(Crew);
        await _phone.FillAsync("/samples/take");
    }

    public async Task DisposeAsync()
    {
        await _phone.DisposeAsync();
        await ((IAsyncLifetime)App).DisposeAsync();
    }

    [Fact]
    public async Task A_sample_taken_without_signal_arrives_once_with_the_time_of_the_press_and_its_codes_are_told()
    {
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GotoAsync($"{_phone.Url}/work");
        await _phone.Page.GetByRole(AriaRole.Link, new() { Name = "Take a tank sample" }).ClickAsync();
        await TakeAsync("10", "12.5");
        await Expect(Line).ToHaveTextAsync("No signal. Kept on this phone: 1. It is sent when there is signal. ");
        await _phone.Page.EvaluateAsync("async () => { const [entry] = await phoneQueue.all(); await phoneQueue.keep({ ...entry, pressed: entry.pressed - 3_600_000 }); }");
        await _phone.RestartAsync();
        _phone.Wire.Set(Wire.Mood.Deaf);
        await _phone.Page.GotoAsync($"{_phone.Url}/samples/take");
        await Expect(_phone.Page.GetByText("Not sent yet, kept on this phone: a tank sample.")).ToBeVisibleAsync();

        _phone.Wire.Set(Wire.Mood.Up);
        await _phone.Page.GotoAsync($"{_phone.Url}/work");

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        Sample[] samples = await SamplesAsync();
        samples.Select(sample => (sample.Code, sample.Kind, sample.Litres)).Should().Equal(
            ("COP-1-260708-A", SampleKind.Grab, 10), ("COP-1-260708-B", SampleKind.Grab, 12.5));
        samples[0].TakenAt.Should().BeCloseTo(FleetApp.Start.AddHours(-1), TimeSpan.FromSeconds(60));
        await Expect(Line).ToContainTextAsync("A tank sample of");
        await Line.GetByRole(AriaRole.Link, new() { Name = "the answer" }).ClickAsync();
        await Expect(_phone.Page.GetByRole(AriaRole.Status).Filter(new() { HasText = "Write on the jars" })).ToContainTextAsync("COP-1-260708-B");
        await Expect(Line).ToBeHiddenAsync();
    }

    [Fact]
    public async Task A_wrong_field_comes_back_with_all_that_was_written_and_is_sent_again()
    {
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GotoAsync($"{_phone.Url}/samples/take");
        await _phone.Page.Locator("[name=Note]").FillAsync("Green scum.");
        await TakeAsync("ten", "12.5");
        await _phone.SetOfflineAsync(false);

        await Expect(_phone.Page.GetByText("Write a number, such as 12.5.")).ToBeVisibleAsync();
        await Expect(_phone.Page.Locator("[name=Note]")).ToHaveValueAsync("Green scum.");
        await Expect(Line).ToContainTextAsync("A tank sample asks you something");
        (await SamplesAsync()).Should().BeEmpty();
        await _phone.Page.GetByLabel("Litres in grab A").FillAsync("10");
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Taken: give the codes" }).ClickAsync();

        await Expect(_phone.Page.GetByText("Write on the jars")).ToBeVisibleAsync();
        (await SamplesAsync()).Select(sample => sample.Note).Should().Equal("Green scum.", "Green scum.");
        await _phone.WaitAsync("(await phoneQueue.all()).length === 1");
    }

    [Fact]
    public async Task A_checklist_signed_while_the_answer_was_lost_is_signed_once()
    {
        await _phone.Page.GotoAsync($"{_phone.Url}/stations/COP-1/checklists/{SignedLists.Slug(SignedList.Winterizing)}");
        foreach (ILocator step in await _phone.Page.Locator("input[name=Ticked]").AllAsync())
        {
            await step.CheckAsync();
        }

        _phone.Wire.Set(Wire.Mood.Deaf);
        await _phone.Page.EvaluateAsync("() => { const button = document.querySelector('form[data-queue=list] button.go'); button.click(); button.click(); }");
        await _phone.WaitAsync("(await phoneQueue.all()).length === 1");
        await _phone.RestartAsync();
        _phone.Wire.Set(Wire.Mood.Up);
        await _phone.Page.GotoAsync($"{_phone.Url}/work");

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        SignedChecklist[] signed = await App.ReadAsync(db => db.SignedChecklists.ToArrayAsync());
        signed.Should().ContainSingle().Which.List.Should().Be(SignedList.Winterizing);
    }

    private Task<Sample[]> SamplesAsync() => App.ReadAsync(db => db.Samples.OrderBy(sample => sample.Code).ToArrayAsync());

    private async Task TakeAsync(params string[] litres)
    {
        await _phone.Page.Locator("[name=Station]").SelectOptionAsync("COP-1");
        await _phone.Page.GetByLabel("Litres in grab A").FillAsync(litres[0]);
        await _phone.Page.GetByLabel("Litres in grab B").FillAsync(litres[1]);
        await _phone.Page.GetByText("Each from a dip of its own: replicates").ClickAsync();
        await _phone.Page.EvaluateAsync("() => { const button = document.querySelector('form[data-queue=sample] button.go'); button.click(); button.click(); }");
        await _phone.WaitAsync("(await phoneQueue.all()).some(entry => entry.kind === 'sample')");
    }
}
