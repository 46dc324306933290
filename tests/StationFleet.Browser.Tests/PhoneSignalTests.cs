using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using SkiaSharp;
using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Service;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>What a technician meets when the signal is gone, when it comes back, and when somebody else used the phone.</summary>
public sealed class PhoneSignalTests : IAsyncLifetime
{
    private const string Crew = "crew@juniper-basin.example";

    private FleetApp App { get; } = new();
    private FleetUser _person = null!;
    private PhoneInTheField _phone = null!;

    private ILocator Line => _phone.Page.Locator("[data-kept-line]");

    public async Task InitializeAsync()
    {
        await App.InitializeAsync();
        await App.AddTankTicketAsync(7);
        _person = await PhoneInTheField.AddTechnicianAsync(App, Crew);
        _phone = await PhoneInTheField.OpenAsync(App);
        await _phone.SignInAsync(Crew);
        await _phone.FillAsync(7);
    }

    public async Task DisposeAsync()
    {
        await _phone.DisposeAsync();
        await ((IAsyncLifetime)App).DisposeAsync();
    }

    [Fact]
    public async Task Without_signal_a_ticket_with_its_cautions_and_steps_is_readable_and_closes_later()
    {
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GotoAsync($"{_phone.Url}/work");
        await _phone.Page.Locator("a[href='/tickets/7']").ClickAsync();

        await Expect(_phone.Page.GetByText("Before you start")).ToBeVisibleAsync();
        await Expect(_phone.Page.Locator("input[name=Steps]").First).ToBeVisibleAsync();
        await _phone.WriteAsync("Screen clogged.", "45", "35");
        await _phone.PressAsync(7, "close");
        await Expect(Line).ToHaveTextAsync("No signal. Kept on this phone: 1. It is sent when there is signal. ");
        List<string> faults = [.. await AccessibilityTests.FaultsAsync(_phone.Page, "light")];
        await _phone.Page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        faults.AddRange(await AccessibilityTests.FaultsAsync(_phone.Page, "dark"));
        faults.Should().BeEmpty();

        await _phone.SetOfflineAsync(false);

        await Expect(_phone.Page.GetByText("Closed. Thank you.")).ToBeVisibleAsync();
        await Expect(Line).ToBeHiddenAsync();
    }

    [Fact]
    public async Task A_closing_kept_for_an_hour_is_written_down_for_when_the_button_was_pressed()
    {
        await _phone.SetOfflineAsync(true);
        await _phone.OpenTicketAsync(7);
        await _phone.WriteAsync("Screen clogged.", "45", "35");
        await _phone.PressAsync(7, "close");
        await _phone.Page.EvaluateAsync("async () => { const [entry] = await phoneQueue.all(); await phoneQueue.keep({ ...entry, pressed: entry.pressed - 3_600_000 }); }");

        await _phone.SetOfflineAsync(false);

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        (await App.TicketAsync(7)).DoneAt.Should().BeCloseTo(FleetApp.Start.AddHours(-1), TimeSpan.FromSeconds(60));
    }

    [Fact]
    public async Task What_somebody_else_did_meanwhile_comes_back_as_a_choice_with_nothing_lost()
    {
        await _phone.SetOfflineAsync(true);
        await _phone.OpenTicketAsync(7);
        await _phone.WriteAsync("Screen clogged.", "45", "35");
        await _phone.PressAsync(7, "close");
        Ticket now = await App.TicketAsync(7);
        Viewer other = new("other", "Second crew", new HashSet<string> { FleetRoles.Technician }, null);
        await App.Get<TakeTicket>().HandleAsync(new TicketForm(7, "second-crew-takes-it", now.Version, 0, other), CancellationToken.None);
        await _phone.RestartAsync();
        await _phone.SetOfflineAsync(false);
        await _phone.Page.GotoAsync($"{_phone.Url}/work");

        await Expect(Line).ToContainTextAsync("T-7 asks you something");
        (await App.VisitsAsync(7)).Should().BeEmpty();
        await _phone.SetOfflineAsync(true);
        await Line.GetByRole(AriaRole.Link).ClickAsync();
        await Expect(_phone.Page.GetByText("Meanwhile somebody else was faster.")).ToBeVisibleAsync();
        await Expect(_phone.Page.GetByText("Second crew took it").First).ToBeVisibleAsync();
        await Expect(_phone.Page.GetByLabel("What you found")).ToHaveValueAsync("Screen clogged.");
        await Expect(_phone.Page.GetByLabel("Fixed")).ToBeCheckedAsync();
        await Expect(_phone.Page.GetByRole(AriaRole.Button, new() { Name = "Throw away what I wrote" })).ToBeVisibleAsync();
        (await AccessibilityTests.FaultsAsync(_phone.Page, "choice")).Should().BeEmpty();
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Close the ticket" }).ClickAsync();
        await _phone.SetOfflineAsync(false);

        await Expect(_phone.Page.GetByText("Closed. Thank you.")).ToBeVisibleAsync();
        (await App.VisitsAsync(7)).Should().ContainSingle().Which.Note.Should().StartWith("Screen clogged.");
    }

    [Fact]
    public async Task A_page_is_kept_only_once_what_it_is_written_in_with_is_kept()
    {
        // The signal may go at the very moment when the page is kept: the form's script has to be there by then.
        string[] scripts = await _phone.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const paths = async name => (await (await caches.open(name)).keys()).map(one => new URL(one.url).pathname);
              await Promise.all(['phone-pages', 'phone-assets'].map(name => caches.delete(name)));
              (await navigator.serviceWorker.ready).active.postMessage({ home: '/work', fill: [] });
              while (!(await paths('phone-pages')).includes('/tickets/7')) await new Promise(resolve => setTimeout(resolve));
              return (await paths('phone-assets')).filter(path => path.endsWith('.js'));
            }
            """);

        scripts.Should().Contain(path => path.StartsWith("/js/phone.", StringComparison.Ordinal))
            .And.Contain(path => path.StartsWith("/js/phone-queue.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_session_that_ended_keeps_the_queue_and_only_its_own_person_sends_it()
    {
        const string second = "second@juniper-basin.example";
        await PhoneInTheField.AddTechnicianAsync(App, second);
        await _phone.SetOfflineAsync(true);
        await _phone.OpenTicketAsync(7);
        await _phone.WriteAsync("Screen clogged.", "45", "35");
        await _phone.PressAsync(7, "close");
        await _phone.Page.Context.ClearCookiesAsync();
        await _phone.SetOfflineAsync(false);
        await Expect(Line).ToContainTextAsync("Sign in again");

        await _phone.SignInAsync(second);
        await Expect(Line).ToHaveTextAsync("Kept for somebody else who used this phone: 1. It is sent when they sign in. ");
        (await App.TicketAsync(7)).State.Should().Be(TicketState.New);
        await _phone.SignInAsync(Crew);

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        (await App.TicketAsync(7)).ClosedById.Should().Be(_person.Id);
    }

    [Fact]
    public async Task Signing_out_asks_for_what_is_unsent_and_then_leaves_nothing_readable()
    {
        await _phone.OpenTicketAsync(7);
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GetByLabel("What you found").FillAsync("Screen clogged.");
        await _phone.PressAsync(7, "close");
        await _phone.SetOfflineAsync(false);
        await Expect(_phone.Page.GetByText("Say how it ended.")).ToBeVisibleAsync();
        await Expect(_phone.Page.GetByLabel("What you found")).ToHaveValueAsync("Screen clogged.");
        await _phone.Page.GotoAsync($"{_phone.Url}/sign-out");
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await Expect(_phone.Page.Locator("[data-unsent]")).ToContainTextAsync("Not sent yet, kept on this phone: 1.");

        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Throw away and sign out" }).ClickAsync();

        await _phone.Page.WaitForURLAsync("**/sign-in");
        await _phone.WaitAsync("(await phoneQueue.all()).length === 0 && !(await caches.has('phone-pages'))");
        await _phone.SetOfflineAsync(true);
        await _phone.OpenTicketAsync(7);
        await Expect(_phone.Page.GetByRole(AriaRole.Heading)).ToHaveTextAsync("No signal, and this page is not kept on this phone.");
        (await App.ReadAsync(db => db.TicketEvents.CountAsync(happening => happening.Kind != TicketEventKind.Raised))).Should().Be(0);
    }

    [Fact]
    public async Task The_browser_finds_nothing_that_keeps_My_work_from_being_installed()
    {
        await _phone.Page.GotoAsync($"{_phone.Url}/work");
        ICDPSession chromium = await _phone.Page.Context.NewCDPSessionAsync(_phone.Page);

        JsonElement manifest = (await chromium.SendAsync("Page.getAppManifest"))!.Value;
        JsonElement faults = (await chromium.SendAsync("Page.getInstallabilityErrors"))!.Value;

        manifest.GetProperty("errors").EnumerateArray().Should().BeEmpty();
        faults.GetProperty("installabilityErrors").EnumerateArray().Select(fault => fault.GetProperty("errorId").GetString())
            .Except(["in-incognito"]).Should().BeEmpty();
        JsonElement told = JsonDocument.Parse(manifest.GetProperty("data").GetString()!).RootElement;
        (told.GetProperty("start_url").GetString(), told.GetProperty("scope").GetString(), told.GetProperty("display").GetString()).Should().Be(("/work", "/", "standalone"));
        foreach (JsonElement icon in told.GetProperty("icons").EnumerateArray().Where(icon => icon.GetProperty("type").GetString() == "image/png"))
        {
            IAPIResponse answer = await _phone.Page.APIRequest.GetAsync(_phone.Url + icon.GetProperty("src").GetString());
            using SKBitmap picture = SKBitmap.Decode(await answer.BodyAsync());
            $"{picture.Width}x{picture.Height}".Should().Be(icon.GetProperty("sizes").GetString());
        }

        string worker = await _phone.Page.EvaluateAsync<string>("async () => { const one = await navigator.serviceWorker.ready; return one.scope + ' ' + new URL(one.active.scriptURL).pathname; }");
        worker.Should().Be($"{_phone.Url}/ /sw.js");
    }

    [Fact]
    public async Task Without_signal_the_stations_in_short_and_the_time_to_be_back_work_and_signing_out_takes_them_away()
    {
        await _phone.FillAsync("/work/stations");
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GotoAsync($"{_phone.Url}/work/stations");
        await _phone.Page.GetByText("COP-1 · Dam Road access, Copperline Reservoir").ClickAsync();
        await Expect(_phone.Page.GetByText("Who has keys")).ToBeVisibleAsync();
        await _phone.Page.GotoAsync($"{_phone.Url}/work");
        await _phone.Page.GetByText("Working alone: say when you are back").ClickAsync();
        await _phone.Page.GetByLabel("Back at").FillAsync("16:00");
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "I am out until then" }).ClickAsync();
        await Expect(Line).ToContainTextAsync("Kept on this phone: 1.");

        await _phone.SetOfflineAsync(false);

        await _phone.WaitAsync("(await phoneQueue.all()).every(entry => entry.state === 'sent')");
        (await App.ReadAsync(db => db.Outings.SingleAsync())).ExpectedBack.Should().Be(new DateTimeOffset(2026, 7, 8, 22, 0, 0, TimeSpan.Zero));
        await _phone.Page.GotoAsync($"{_phone.Url}/sign-out");
        await _phone.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await _phone.Page.WaitForURLAsync("**/sign-in");
        await _phone.SetOfflineAsync(true);
        await _phone.Page.GotoAsync($"{_phone.Url}/work/stations");
        await Expect(_phone.Page.GetByRole(AriaRole.Heading)).ToHaveTextAsync("No signal, and this page is not kept on this phone.");
    }

    [Fact]
    public async Task The_ticket_page_weighs_less_than_100_kB_on_a_phone_that_never_saw_it()
    {
        IReadOnlyList<BrowserContextCookiesResult> cookies = await _phone.Page.Context.CookiesAsync();
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await Chromium.LaunchAsync(playwright);
        await using IBrowserContext context = await browser.NewContextAsync(new() { ServiceWorkers = ServiceWorkerPolicy.Block });
        await context.AddCookiesAsync(cookies.Select(cookie => new Cookie { Name = cookie.Name, Value = cookie.Value, Url = _phone.Url }));
        IPage page = await context.NewPageAsync();
        List<IRequest> requests = [];
        page.RequestFinished += (_, request) => requests.Add(request);

        await page.GotoAsync($"{_phone.Url}/tickets/7", new() { WaitUntil = WaitUntilState.NetworkIdle });

        List<(int Bytes, string Url)> sizes = [];
        foreach (IRequest request in requests)
        {
            RequestSizesResult size = await request.SizesAsync();
            sizes.Add((size.ResponseBodySize + size.ResponseHeadersSize, request.Url));
        }

        await Expect(page.GetByText("Before you start")).ToBeVisibleAsync();
        sizes.Sum(size => size.Bytes).Should().BeInRange(10_000, 100_000, "{0}", string.Join("; ", sizes.OrderDescending()));
    }
}
