using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Platform.Demo;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;

namespace StationFleet.Browser.Tests;

/// <summary>
/// An empty server that has been sent a simulated fortnight through its HTTP intake, report by report, with the watch run after
/// each quarter of an hour and the mails sent. One station's radio is out for half a day: its reports are kept back and sent late.
/// </summary>
public sealed class Fortnight : IAsyncLifetime
{
    private const string Silent = "PORT-A";

    private static readonly DateTimeOffset End = FleetApp.Start;
    private static readonly DateTimeOffset First = End.AddDays(-14);
    private static readonly DateTimeOffset OutageFrom = End.AddDays(-10);
    private static readonly DateTimeOffset OutageTo = OutageFrom.AddHours(12);
    private static readonly TimeSpan WatchEvery = TimeSpan.FromMinutes(15);

    private IPlaywright _playwright = null!;
    private DemoFile _people = null!;

    public FleetApp App { get; } = FleetApp.StartingAt(First);

    public IBrowser Browser { get; private set; } = null!;

    /// <summary>Reports that the server took.</summary>
    public int ReportsTaken { get; private set; }

    public string Url => App.Address.ToString().TrimEnd('/').Replace("127.0.0.1", "localhost", StringComparison.Ordinal);

    public async Task InitializeAsync()
    {
        await App.InitializeAsync();
        DemoFleetFile file = new();
        _people = await new LoadDemoFleet(
            App.Databases, App.Get<IServiceScopeFactory>(), App.Get<StationKeys>(), App.Get<FleetPaths>(), file).HandleAsync(CancellationToken.None);
        await StartWatchAsync();
        await SendAsync(file.Fleet, _people.Keys);
        await App.Get<SendMail>().HandleAsync(CancellationToken.None);
        _playwright = await Playwright.CreateAsync();
        Browser = await Chromium.LaunchAsync(_playwright);
    }

    public async Task DisposeAsync()
    {
        if (Browser is not null)
        {
            await Browser.DisposeAsync();
        }

        _playwright?.Dispose();
        await ((IAsyncLifetime)App).DisposeAsync();
    }

    /// <summary>A page on which a person of the role has signed in by the form.</summary>
    public async Task<IPage> SignedInAsync(string role, BrowserNewContextOptions? options = null)
    {
        IBrowserContext context = await Browser.NewContextAsync(options ?? Desktop());
        IPage page = await context.NewPageAsync();
        await page.GotoAsync($"{Url}/sign-in");
        DemoAccount person = _people.Accounts.Single(account => account.Role == role);
        await page.GetByLabel("E-mail").FillAsync(person.Email);
        await page.GetByLabel("Password").FillAsync(person.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        return page;
    }

    public static BrowserNewContextOptions Desktop(bool dark = false) => new()
    {
        ViewportSize = new ViewportSize { Width = 1440, Height = 1000 },
        ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
    };

    public static BrowserNewContextOptions Phone(bool script = true, bool dark = false) => new()
    {
        ViewportSize = new ViewportSize { Width = 390, Height = 844 },
        ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
        JavaScriptEnabled = script,
        HasTouch = true,
    };

    /// <summary>Opens a page and waits until its circuit is up: a click before is lost.</summary>
    public async Task OpenAsync(IPage page, string path)
    {
        await page.GotoAsync(Url + path);
        await page.Locator(".shell[data-live]").WaitForAsync();
    }

    // The stations have stood there for a year; the watch over them begins with the fortnight.
    private Task StartWatchAsync() => App.Databases.WriteAsync(
        async db => db.AddRange((await db.Stations.ToListAsync()).Select(station => WatchPosition.StartingAt(station.Id, First))),
        CancellationToken.None);

    private async Task SendAsync(FleetFile fleet, IReadOnlyDictionary<string, string> keys)
    {
        List<SimulatedReport> kept = [];
        DateTimeOffset nextWatch = First + WatchEvery;
        foreach (SimulatedReport report in new FleetSimulator(fleet).ReceivedBetween(First, End))
        {
            for (; nextWatch <= report.Received; nextWatch += WatchEvery)
            {
                await WatchAtAsync(nextWatch);
            }

            App.Clock.SetUtcNow(report.Received);
            bool isOut = report.Station == Silent && report.Received > OutageFrom && report.Received <= OutageTo;
            if (isOut)
            {
                kept.Add(report);
                continue;
            }

            if (report.Station == Silent && kept.Count > 0)
            {
                await Task.WhenAll(kept.Select(late => PostAsync(late, keys[Silent])));
                kept.Clear();
            }

            await PostAsync(report, keys[report.Station]);
        }

        await WatchAtAsync(End);
    }

    private async Task WatchAtAsync(DateTimeOffset instant)
    {
        App.Clock.SetUtcNow(instant);
        await App.Get<RunWatch>().HandleAsync(CancellationToken.None);
    }

    private async Task PostAsync(SimulatedReport report, string key)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports");
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        request.Content = new ByteArrayContent(SenmlWriter.Write(report.Station, report.Measurements));
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
        using HttpResponseMessage answer = await App.Http.SendAsync(request);
        if (answer.StatusCode != HttpStatusCode.OK)
        {
            throw new InvalidOperationException($"{report.Station} {report.Received:O}: {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        }

        ReportsTaken++;
    }
}

[CollectionDefinition(Name)]
public sealed class FortnightTests : ICollectionFixture<Fortnight>
{
    public const string Name = "fortnight";
}
