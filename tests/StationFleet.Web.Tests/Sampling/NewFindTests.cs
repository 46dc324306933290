using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Web.Fleet;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

public sealed class NewFindTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _last = 10;
    private readonly string _station = $"NEW-{Interlocked.Increment(ref _last)}";

    private string Code => $"{_station}-260708-A";

    [Fact]
    public async Task A_taxon_not_known_from_the_water_raises_a_ticket_and_a_mail_to_the_biologist_only()
    {
        (Taxon taxon, _) = await StartAsync("Golden clam");
        await app.AddPersonAsync($"bio.{_station}@juniper-basin.example", "correct horse battery", FleetRoles.Biologist);
        await app.AddPersonAsync($"tech.{_station}@juniper-basin.example", "correct horse battery", FleetRoles.Technician);

        await CountAsync(taxon, 1);

        NewFind find = (await FindsAsync(taxon)).Single();
        find.State.Should().Be(FindState.Presumptive);
        find.Deadline.Should().Be(FleetApp.Start.AddHours(48), "the agency's rules want it within 48 hours");
        Ticket ticket = await app.ReadAsync(db => db.Tickets.AsNoTracking().SingleAsync(row => row.Id == find.TicketId));
        ticket.Rule.Should().Be(Rule.NewFind);
        var mails = await app.ReadAsync(db => db.OutgoingMails.AsNoTracking().Where(mail => mail.TicketId == ticket.Id && mail.To.Contains(_station)).ToListAsync());
        mails.Should().ContainSingle().Which.To.Should().StartWith("bio.");
        mails[0].Text.Should().Contain("Presumptive find in tank water").And.Contain("Origin unknown; verify, keep the specimen; your reporting rules apply: tell the state desk")
            .And.Contain("Nothing of it is public before it is released");
    }

    [Fact]
    public async Task Neither_a_zero_nor_a_known_taxon_nor_a_blank_is_a_find()
    {
        (Taxon taxon, Station station) = await StartAsync("Killer shrimp");
        Taxon known = await app.TaxonAsync("Rusty crayfish", knownFrom: "Copperline Reservoir");
        await app.AddSampleAsync(station, $"{_station}-260708-BLANK", SampleKind.Blank, 2, null);

        await CountAsync(taxon, 0);
        await CountAsync(known, 5);
        await CountAsync(taxon, 3, $"{_station}-260708-BLANK");

        (await FindsAsync(taxon)).Should().BeEmpty();
        (await FindsAsync(known)).Should().BeEmpty();
    }

    [Fact]
    public async Task A_taxon_known_only_since_a_later_day_is_a_find()
    {
        (Taxon taxon, _) = await StartAsync("Asian carp larva");
        await app.Databases.AddAsync(new KnownTaxon { TaxonId = taxon.Id, Water = "Copperline Reservoir", Since = new DateOnly(2026, 7, 9), Basis = "survey" });

        await CountAsync(taxon, 2);

        (await FindsAsync(taxon)).Should().ContainSingle();
    }

    [Fact]
    public async Task Another_sample_with_it_joins_the_open_find()
    {
        (Taxon taxon, Station station) = await StartAsync("Faucet snail larva");
        await app.AddSampleAsync(station, $"{_station}-260708-B");

        await CountAsync(taxon, 1);
        await CountAsync(taxon, 4, $"{_station}-260708-B");

        NewFind find = (await FindsAsync(taxon)).Should().ContainSingle().Subject;
        (await app.ReadAsync(db => db.FindEvents.CountAsync(happening => happening.FindId == find.Id && happening.Note!.Contains("-B too")))).Should().Be(1);
        (await app.ReadAsync(db => db.Tickets.CountAsync(row => row.StationId == station.Id && row.Rule == Rule.NewFind))).Should().Be(1);
    }

    [Fact]
    public async Task A_find_goes_from_presumptive_to_confirmed_to_released_and_is_known_from_then_on()
    {
        (Taxon taxon, Station station) = await StartAsync("Bloody red shrimp");
        await CountAsync(taxon, 1);
        NewFind find = (await FindsAsync(taxon)).Single();
        DecideFind decide = app.Get<DecideFind>();
        DecideFind.Command Act(string act, string note = "", string told = "", int version = 0) => new() { Find = find.Id.Value, Version = version, Act = act, Note = note, Told = told };
        Task<SampleAnswer> By(Web.Accounts.Viewer viewer, DecideFind.Command command) => decide.HandleAsync(viewer, command, CancellationToken.None);

        (await By(Viewers.Biologist, Act("Releasable", "The director."))).Should().BeOfType<SampleAnswer.Refused>("nobody has confirmed it");
        (await By(Viewers.Technician, Act("Confirmed", "Me."))).Should().BeOfType<SampleAnswer.NotAllowed>();
        (await By(Viewers.Biologist, Act("Confirmed"))).Should().BeOfType<SampleAnswer.Refused>().Which.Wrong.For("Note").Should().Be("Write who verified it, and how.");
        (await By(Viewers.Biologist, Act(DecideFind.Tell, told: "state desk, by telephone"))).Should().BeOfType<SampleAnswer.Saved>();
        (await By(Viewers.Biologist, Act("Confirmed", "Second reader, from the slide."))).Should().BeOfType<SampleAnswer.Saved>();
        (await By(Viewers.Biologist, Act("Releasable", "The director, in writing."))).Should().BeOfType<SampleAnswer.Changed>("the form is older than the confirmation");
        (await By(Viewers.Biologist, Act("Releasable", "The director, in writing.", version: 1))).Should().BeOfType<SampleAnswer.Saved>();

        (await FindsAsync(taxon)).Single().State.Should().Be(FindState.Releasable);
        ReadFinds.Row row = (await app.Get<ReadFinds>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Rows.Single(one => one.Id == find.Id.Value);
        row.Log.Select(happening => happening.What).Should().Equal(
            $"presumptive. Found in sample {Code}.", "told state desk, by telephone.", "confirmed, not to be told yet. Second reader, from the slide.", "may be told. The director, in writing.");
        await app.AddSampleAsync(station, $"{_station}-260708-C");
        await CountAsync(taxon, 2, $"{_station}-260708-C");
        (await FindsAsync(taxon)).Should().ContainSingle("it is known from this water now");
    }

    [Fact]
    public async Task A_find_makes_no_station_need_a_visit_and_shows_in_no_season_figure()
    {
        (Taxon taxon, Station station) = await StartAsync("Water soldier");
        await CountAsync(taxon, 1);

        var states = await app.Get<ReadStationStates>().HandleAsync(Viewers.Administrator, CancellationToken.None);
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"season {_station}", FleetRoles.Administrator);
        string tables = (await browser.GoAsync("/season/tables.json")).Html;
        string tickets = (await browser.GoAsync("/season/tickets.csv")).Html;

        states.Single(state => state.Id == station.Id).Condition.Should().NotBe(Domain.Fleet.StationCondition.NeedsVisit);
        tables.Should().NotContain(taxon.Name);
        tickets.Should().NotContain("NewFind").And.NotContain("New find").And.NotContain(taxon.Name);
    }

    private async Task<(Taxon Taxon, Station Station)> StartAsync(string name)
    {
        Station station = await app.AddSampledStationAsync(_station);
        await app.ReadAsync(async db =>
        {
            Agency agency = await db.Agencies.SingleAsync(row => row.Id == station.OwnerId);
            (agency.FindContact, agency.FindHours) = ("the state desk", 48);
            return await db.SaveChangesAsync();
        });
        Taxon taxon = await app.TaxonAsync(name);
        await app.AddSampleAsync(station, Code);
        return (taxon, station);
    }

    private async Task CountAsync(Taxon taxon, int count, string? code = null)
    {
        SaveCounts.Outcome outcome = await app.Get<SaveCounts>().HandleAsync(Viewers.Biologist, code ?? Code, Guid.NewGuid().ToString("N"), new BenchInput
        {
            ExaminedMl = "1", IdentifiedBy = "bench",
            Counts = new Dictionary<string, string> { [BenchInput.CountField(taxon.Id, LifeStage.Veliger)] = count.ToString(System.Globalization.CultureInfo.InvariantCulture) },
        }, CancellationToken.None);
        outcome.Should().BeOfType<SaveCounts.Outcome.Saved>();
    }

    private Task<List<NewFind>> FindsAsync(Taxon taxon) => app.ReadAsync(db => db.NewFinds.AsNoTracking().Where(find => find.TaxonId == taxon.Id).ToListAsync());
}
