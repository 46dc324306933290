using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Counts;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Platform.Demo;
using StationFleet.Web.Sampling;
using StationFleet.Web.Seasons;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;

namespace StationFleet.Browser.Tests;

/// <summary>
/// An empty server that has been sent a simulated fortnight through its HTTP intake, with the watch run as time passes and the mails
/// sent. A controller bundles what it measured in 40 minutes, since a key may send 600 reports at once and 120 a minute after that.
/// One station's radio is out for two days: its reports are kept back and sent late, in large packs.
/// </summary>
public sealed class Fortnight : IAsyncLifetime
{
    private const string Silent = "PORT-A";

    private static readonly DateTimeOffset End = FleetApp.Start;
    private static readonly DateTimeOffset First = End.AddDays(-14);
    private static readonly DateTimeOffset OutageFrom = End.AddDays(-10);
    private static readonly DateTimeOffset OutageTo = OutageFrom.AddHours(48);
    private const int ReportsInPack = 24;
    private static readonly TimeSpan Step = TimeSpan.FromMinutes(40);

    private IPlaywright _playwright = null!;
    private DemoFile _people = null!;

    public FleetApp App { get; } = FleetApp.StartingAt(First);

    public IBrowser Browser { get; private set; } = null!;

    public string Url => App.Address.ToString().TrimEnd('/').Replace("127.0.0.1", "localhost", StringComparison.Ordinal);

    public async Task InitializeAsync()
    {
        await App.InitializeAsync();
        DemoFleetFile file = new();
        _people = await new LoadDemoFleet(
            App.Databases, App.Get<IServiceScopeFactory>(), App.Get<StationKeys>(), App.Get<FleetPaths>(), file).HandleAsync(CancellationToken.None);
        await new LoadDemoGrants(App.Databases).HandleAsync(CancellationToken.None);
        await StartWatchAsync();
        await SendAsync(file.Fleet, _people.Keys);
        await SampleAsync();
        await CountAsync();
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

    // One grab, counted, of 1 July: COP-1-260701-A.
    private async Task SampleAsync()
    {
        Viewer biologist = new("fortnight", "District biologist", new HashSet<string> { FleetRoles.Biologist }, null);
        await App.Get<TakeSamples>().HandleAsync(biologist, "fortnight-taking-1", new TakeInput
        {
            Station = "COP-1", Grabs = ["10"], Mesh = "64", Preservation = "Ethanol", TakenAt = "2026-07-01T10:00",
        }, CancellationToken.None);
        await using FleetDbContext db = await App.Databases.CreateDbContextAsync();
        Taxon mussel = await db.Taxa.SingleAsync(taxon => taxon.Key == "q");
        await App.Get<SaveCounts>().HandleAsync(biologist, "COP-1-260701-A", "fortnight-count-01", new BenchInput
        {
            ExaminedMl = "5", ConcentrateMl = "50", IdentifiedBy = biologist.Name,
            Counts = new Dictionary<string, string> { [BenchInput.CountField(mussel.Id, LifeStage.Veliger)] = "27" },
        }, CancellationToken.None);
        await App.Get<SubmitSeason>().HandleAsync(biologist, new SummariseSeason.Query(2026, null), CancellationToken.None);
    }

    // Two shifts of one kind of hours, so that the pages have a share to show.
    private async Task CountAsync()
    {
        Viewer steward = new("fortnight", "Ramp steward", new HashSet<string> { FleetRoles.Steward }, null);
        foreach (string day in (string[])["2026-07-04", "2026-07-05"])
        {
            await App.Get<CountDesk>().SaveAsync(steward, "COP-1", $"fortnight-shift-{day}", new CountInput
            {
                From = $"{day}T08:00", To = $"{day}T12:00", BoatsLeaving = "38", BoatsAtStation = "12", Tools = new Dictionary<string, string> { ["vacuum"] = "31" },
            }, CancellationToken.None);
        }
    }

    // The stations have stood there for a year; the watch over them begins with the fortnight.
    private Task StartWatchAsync() => App.Databases.WriteAsync(
        async db => db.AddRange((await db.Stations.ToListAsync()).Select(station => WatchPosition.StartingAt(station.Id, First))),
        CancellationToken.None);

    private async Task SendAsync(FleetFile fleet, IReadOnlyDictionary<string, string> keys)
    {
        ILookup<string, SimulatedReport> reports = new FleetSimulator(fleet).ReceivedBetween(First, End).ToLookup(report => report.Station);
        Dictionary<string, Queue<SimulatedReport>> waiting = reports.ToDictionary(station => station.Key, station => new Queue<SimulatedReport>(station));
        for (DateTimeOffset now = First + Step; now <= End; now += Step)
        {
            App.Clock.SetUtcNow(now);
            foreach ((string station, Queue<SimulatedReport> queue) in waiting)
            {
                bool isOut = station == Silent && now > OutageFrom && now <= OutageTo;
                List<SimulatedReport> due = [];
                while (!isOut && queue.TryPeek(out SimulatedReport? next) && next.Received <= now)
                {
                    due.Add(queue.Dequeue());
                }

                foreach (SimulatedReport[] pack in due.Chunk(ReportsInPack))
                {
                    await PostAsync(station, [.. pack.SelectMany(report => report.Measurements)], keys[station]);
                }
            }

            await App.Get<RunWatch>().HandleAsync(CancellationToken.None);
        }
    }


    private async Task PostAsync(string station, IReadOnlyList<Measurement> measurements, string key)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports");
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        request.Content = new ByteArrayContent(SenmlWriter.Write(station, measurements));
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
        using HttpResponseMessage answer = await App.Http.SendAsync(request);
        if (answer.StatusCode != HttpStatusCode.OK)
        {
            throw new InvalidOperationException($"{station}: {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        }
    }
}

[CollectionDefinition(Name)]
public sealed class FortnightTests : ICollectionFixture<Fortnight>
{
    public const string Name = "fortnight";
}
