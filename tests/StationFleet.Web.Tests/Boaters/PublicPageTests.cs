using System.Net;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Boaters;
using StationFleet.Web.Tests.Office;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Boaters;

/// <summary>What a stranger reads at the ramp, over a plain request without cookies and script.</summary>
public sealed class PublicPageTests(FleetApp app) : IClassFixture<FleetApp>, IAsyncLifetime
{
    private static int _last;
    private readonly string _slug = $"ramp-{Interlocked.Increment(ref _last)}";

    private string Code => $"PUB-{_slug[5..]}";

    // Before there is a person, every address leads to the first run.
    public Task InitializeAsync() => app.AddPersonAsync($"{_slug}@juniper-basin.example", "correct horse battery", FleetRoles.Administrator);

    public Task DisposeAsync() => Task.CompletedTask;

    [Fact]
    public async Task A_stranger_reads_how_to_use_each_tool_and_what_the_station_does_not_do()
    {
        await StartAsync();

        PlainBrowser.Page page = await ReadAsync();

        page.Status.Should().Be(HttpStatusCode.OK);
        page.Words.Should().Contain("Clean, drain, dry.")
            .And.Contain("This station helps remove water, plants and mud. It does not decontaminate or certify your boat; required inspections, seals and drying times still apply.")
            .And.Contain("Never vacuum gasoline, oil or water with a sheen: fire risk.")
            .And.Contain("The station is in service.");
        page.Words.Should().Contain(ToolSteps.For(ToolKind.Vacuum)[0]).And.Contain(ToolSteps.For(ToolKind.Grabber)[0]).And.NotContain(ToolSteps.For(ToolKind.Blower)[0]);
        System.Text.RegularExpressions.Regex.Count(page.Html, "<svg ").Should().Be(2, "each tool that hangs there has its drawing, and no other");
    }

    [Fact]
    public async Task It_is_a_small_document_without_script()
    {
        await StartAsync();

        using HttpResponseMessage answer = await app.Http.GetAsync($"/a/{_slug}");
        string html = await answer.Content.ReadAsStringAsync();

        html.Should().NotContain("<script").And.NotContain("<!--Blazor:").And.NotContain("app.css");
        html.Length.Should().BeLessThan(20_000);
        answer.Headers.CacheControl!.NoStore.Should().BeTrue("its form is for one reader");
    }

    [Fact]
    public async Task It_tells_in_plain_words_when_something_waits_for_a_look_and_nothing_of_what()
    {
        Station station = await StartAsync();
        await app.AddTicketAsync(
            700 + _last, station.Id, null, Rule.TankFilling, "", new TankFillingEvidence(46.0 / 55, 208, 40));

        PlainBrowser.Page page = await ReadAsync();

        page.Words.Should().Contain("in service, but something about it waits for a look");
        page.Words.Should().NotContain("T-7").And.NotContain("Pump out").And.NotContain("full");
    }

    [Fact]
    public async Task A_closed_access_is_told_without_the_reason_that_the_office_wrote()
    {
        await StartAsync();
        Access access = await app.FindAsync<Access>(row => row.Slug == _slug);
        await app.Databases.AddAsync(new AccessClosure { AccessId = access.Id, From = FleetApp.Start.AddDays(-1), Reason = "contractor in default" });

        PlainBrowser.Page page = await ReadAsync();

        page.Words.Should().Contain("This access is closed for now.").And.NotContain("contractor");
    }

    [Fact]
    public async Task An_access_without_a_station_has_its_page_and_no_form()
    {
        await app.AddAccessAsync(_slug);

        PlainBrowser.Page page = await ReadAsync();

        page.Words.Should().Contain("No station stands here now.");
        page.Html.Should().NotContain("<form");
    }

    [Fact]
    public async Task An_unknown_access_is_not_found() =>
        (await app.Http.GetAsync("/a/nowhere-at-all")).StatusCode.Should().Be(HttpStatusCode.NotFound);

    [Fact]
    public async Task The_season_is_told_by_the_season_summarys_own_figures()
    {
        Station station = await StartAsync();
        DateTimeOffset day = new(2026, 7, 4, 16, 0, 0, TimeSpan.Zero);
        string uses = MeasurementName.Uses("vacuum");
        await app.Get<MeasurementWriter>().WriteAsync(
            FleetBuilders.Report(
                station,
                new Measurement(uses, day, 0), new Measurement(uses, day.AddMinutes(5), 2), new Measurement(uses, day.AddMinutes(65), 3),
                new Measurement(uses, day.AddMinutes(125), 3), new Measurement(uses, day.AddMinutes(185), 7)),
            CancellationToken.None);
        await app.Databases.AddAsync(new Storage.Service.PumpOut { StationId = station.Id, At = day.AddDays(1), Litres = 150, Source = Storage.Service.PumpOutSource.Visit });

        PlainBrowser.Page page = await ReadAsync();

        Domain.Seasons.SeasonFigures figures = await FiguresAsync(station);
        figures.UseSessions.Should().BeGreaterThan(0);
        page.Words.Should().Contain($"Since 1 May 2026 this station had {figures.UseSessions} use sessions and took in about 40 gallons of water.", "150 L are 39.6 US gallons");
    }

    [Fact]
    public async Task Organisms_appear_only_once_their_find_was_released()
    {
        Station station = await StartAsync();
        Access access = await app.FindAsync<Access>(row => row.Slug == _slug);
        Taxon taxon = await app.Databases.AddAsync(new Taxon
        {
            AgencyId = station.OwnerId, Name = $"Secret snail {_slug}", ScientificName = $"Secreta {_slug}", Rank = "species", Kingdom = "Animalia", CountedAs = CountedAs.Pieces,
        });
        Sample sample = await app.Databases.AddAsync(new Sample
        {
            Code = $"{Code}-A", StationId = station.Id, AccessId = access.Id, Kind = SampleKind.Grab, TakingKey = $"t-{_slug}", TakenAt = FleetApp.Start.AddDays(-2),
            TakenBy = "field crew", Litres = 10, Preservation = Preservation.Ethanol,
        });
        await app.Databases.AddAsync(new PieceFind { SampleId = sample.Id, TaxonId = taxon.Id, IsPresent = true, IdentifiedBy = "field crew" });

        (await ReadAsync()).Words.Should().NotContain(taxon.Name, "it is not known from this water");

        await app.Databases.AddAsync(new KnownTaxon { TaxonId = taxon.Id, Water = access.Water, Since = new DateOnly(2026, 7, 1), Basis = "the director, in writing" });
        Storage.Service.Ticket ticket = await app.AddTicketAsync(
            800 + _last, station.Id, access.Id, Rule.NewFind, $"taxon-{taxon.Id.Value}", new NewFindEvidence(taxon.Name, access.Water, sample.Code, null, null));
        NewFind find = await app.Databases.AddAsync(new NewFind
        {
            TaxonId = taxon.Id, Water = access.Water, SampleId = sample.Id, TicketId = ticket.Id, FoundAt = FleetApp.Start, State = FindState.Confirmed,
        });
        (await ReadAsync()).Words.Should().NotContain(taxon.Name, "its find is confirmed, not released");

        await app.ReadAsync(async db =>
        {
            db.Attach(find).Entity.State = FindState.Releasable;
            return await db.SaveChangesAsync();
        });
        (await ReadAsync()).Words.Should().Contain($"Found in the station's tank water this season: {taxon.Name}.");
    }

    private async Task<Station> StartAsync()
    {
        Station station = await app.AddStationAsync(Code, await app.AddAccessAsync(_slug));
        await app.Databases.AddToolAsync(station);
        await app.Databases.AddToolAsync(station, "grabber", ToolKind.Grabber);
        return station;
    }

    private async Task<PlainBrowser.Page> ReadAsync()
    {
        using HttpResponseMessage answer = await app.Http.GetAsync($"/a/{_slug}");
        return new PlainBrowser.Page(answer.StatusCode, null, await answer.Content.ReadAsStringAsync());
    }

    private async Task<Domain.Seasons.SeasonFigures> FiguresAsync(Station station) => Domain.Seasons.SeasonSummary.Of(
        await app.Get<Storage.Seasons.SeasonReader>().ReadAsync([station.Id], app.Get<SeasonForPublic>().Current, FleetApp.Start, CancellationToken.None)).Fleet;
}
