using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

public sealed class CountSampleTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _last = 10;
    private readonly string _station = $"CNT-{Interlocked.Increment(ref _last)}";

    private string Code => $"{_station}-260708-A";

    private string Path => $"/samples/{Code}/count";

    [Fact]
    public async Task A_count_is_stored_with_its_zeros_and_without_what_was_not_looked_for()
    {
        (Sample sample, Taxon mussel, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await SaveAsync(browser, page, mussel, "27", ("ExaminedMl", "5"));

        answer.Location.Should().EndWith("done=count");
        AliquotCount[] counts = await CountsAsync(sample);
        counts.Should().ContainSingle("the juveniles were not looked for").Which.Should().BeEquivalentTo(
            new { Count = 27, Stage = LifeStage.Veliger, IdentifiedBy = $"bench {_station}", Confidence = Confidence.Certain });
        ReadSample.View view = (await app.Get<ReadSample>().HandleAsync(Viewers.Biologist, Code, CancellationToken.None))!;
        view.ExaminedLitres.Should().BeApproximately(1.0, 1e-12, "10 L, 5 of 50 mL");
        (await app.HistoryAsync(sample.Id))[^1].What.Should().Be("Aliquot 1, 5 mL of 50 mL: Quagga mussel, veliger 27.");
    }

    [Fact]
    public async Task The_same_form_sent_twice_is_one_aliquot_and_the_browser_is_told_to_let_go()
    {
        (Sample sample, Taxon mussel, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        await SaveAsync(browser, page, mussel, "3", ("ExaminedMl", "1"));
        await SaveAsync(browser, page, mussel, "3", ("ExaminedMl", "1"));

        (await CountsAsync(sample)).Should().ContainSingle();
        string key = page.HiddenFields.Single(field => field.Key == "Key").Value;
        (await browser.GoAsync(Path)).Html.Should().Contain($"data-saved=\"{key}\"");
    }

    [Fact]
    public async Task A_refused_form_keeps_its_counts_and_its_key()
    {
        (Sample sample, Taxon mussel, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await SaveAsync(browser, page, mussel, "112", ("ExaminedMl", "51"));

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.WrongBeside("ExaminedMl").Should().Be("The sample has only 50 mL.");
        answer.Field(Field(mussel)).Should().Be("112");
        answer.HiddenFields.Single(field => field.Key == "Key").Should().Be(page.HiddenFields.Single(field => field.Key == "Key"));
        (await CountsAsync(sample)).Should().BeEmpty();

        (await SaveAsync(browser, answer, mussel, "112", ("ExaminedMl", "50"))).Location.Should().EndWith("done=count");
        PlainBrowser.Page more = await SaveAsync(browser, await browser.GoAsync(Path), mussel, "1", ("ExaminedMl", "1"));
        more.WrongBeside("ExaminedMl").Should().Be("Together the aliquots would be 51 mL, and the sample has only 50 mL.");
    }

    [Fact]
    public async Task A_recount_is_by_another_person_and_adds_no_water()
    {
        (Sample sample, Taxon mussel, PlainBrowser browser) = await StartAsync();
        await SaveAsync(browser, await browser.GoAsync(Path), mussel, "40", ("ExaminedMl", "5"));
        string first = (await app.ReadAsync(db => db.SampleAliquots.SingleAsync(aliquot => aliquot.SampleId == sample.Id))).Id.ToString(System.Globalization.CultureInfo.InvariantCulture);

        PlainBrowser.Page own = await SaveAsync(browser, await browser.GoAsync(Path), mussel, "41", ("RecountOf", first));
        PlainBrowser.Page other = await SaveAsync(browser, own, mussel, "43", ("RecountOf", first), ("IdentifiedBy", "second biologist"));

        own.WrongBeside("RecountOf").Should().Be($"bench {_station} counted it the first time: a recount is by another person.");
        other.Location.Should().EndWith("done=count");
        ReadSample.View view = (await app.Get<ReadSample>().HandleAsync(Viewers.Biologist, Code, CancellationToken.None))!;
        view.ExaminedLitres.Should().BeApproximately(1.0, 1e-12);
        view.Aliquots[1].RecountOf.Should().Be(1);
    }

    [Fact]
    public async Task Correcting_a_count_needs_a_reason_and_keeps_the_old_one()
    {
        (Sample sample, Taxon mussel, PlainBrowser browser) = await StartAsync();
        await SaveAsync(browser, await browser.GoAsync(Path), mussel, "27", ("ExaminedMl", "5"));
        int id = (await CountsAsync(sample))[0].Id;
        CorrectCount correct = app.Get<CorrectCount>();

        SampleAnswer silent = await correct.HandleAsync(Viewers.Technician, Code, new CorrectCount.Command { Count = id, Value = "28" }, CancellationToken.None);
        SampleAnswer told = await correct.HandleAsync(Viewers.Technician, Code, new CorrectCount.Command { Count = id, Value = "28", Why = "One lay at the rim." }, CancellationToken.None);
        SampleAnswer reader = await correct.HandleAsync(Viewers.Supervisor, Code, new CorrectCount.Command { Count = id, Value = "1", Why = "No." }, CancellationToken.None);

        silent.Should().BeOfType<SampleAnswer.Refused>().Which.Wrong.For("Why").Should().Be("Say in a line why the old number was wrong.");
        told.Should().BeOfType<SampleAnswer.Saved>();
        reader.Should().BeOfType<SampleAnswer.NotAllowed>();
        (await CountsAsync(sample))[0].Count.Should().Be(28);
        (await app.HistoryAsync(sample.Id))[^1].What.Should().Be("Aliquot 1, Quagga mussel, veliger: 27 → 28. One lay at the rim.");
    }

    [Fact]
    public async Task Correcting_the_chain_tells_old_and_new_and_notices_others()
    {
        (Sample sample, _, _) = await StartAsync();
        CorrectSample correct = app.Get<CorrectSample>();
        TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
        CorrectSample.Command command = CorrectSample.Command.Of(sample, zone, Domain.Quantities.UnitSystem.UsCustomary);
        (command.Litres, command.RinseMl, command.Why) = ("12", "20", "Read off the wrong line.");

        SampleAnswer first = await correct.HandleAsync(Viewers.Biologist, Code, command, CancellationToken.None);
        SampleAnswer again = await correct.HandleAsync(Viewers.Technician, Code, command, CancellationToken.None);

        first.Should().BeOfType<SampleAnswer.Saved>();
        again.Should().BeOfType<SampleAnswer.Changed>("the form shows an older version");
        (await app.HistoryAsync(sample.Id))[^1].What.Should().Be("Volume: 10 L → 12 L; Rinse: – → 20 mL. Read off the wrong line.");
    }

    [Fact]
    public async Task A_dirty_blank_is_told_on_its_grabs()
    {
        (_, Taxon mussel, PlainBrowser browser) = await StartAsync();
        string blank = $"{_station}-260708-BLANK";
        Station station = await app.ReadAsync(db => db.Stations.SingleAsync(row => row.Code == _station));
        await app.AddSampleAsync(station, blank, SampleKind.Blank, litres: 2, concentrateMl: null);
        string path = $"/samples/{blank}/count";

        await browser.SendAsync(path, await browser.GoAsync(path), "Send", "yes", (Field(mussel), "2"), ("ExaminedMl", "2000"), ("IdentifiedBy", "bench"));

        PlainBrowser.Page page = await browser.GoAsync($"/samples/{Code}");
        page.Words.Should().Contain($"The field blank was not clean: {blank} held 2 Quagga mussel, veliger. Estimates from this taking are withheld.");
    }

    [Fact]
    public async Task A_sample_of_another_agency_is_not_shown()
    {
        Station station = await app.AddSampledStationAsync("LOG-9");
        await app.AddSampleAsync(station, "LOG-9-260708-A");
        Agency other = await app.Databases.AddAgencyAsync("Copperline Reservoir Office");

        (await app.Get<ReadSample>().HandleAsync(Viewers.BiologistOf(other.Id), "LOG-9-260708-A", CancellationToken.None)).Should().BeNull();
        (await app.Get<ListSamples>().HandleAsync(Viewers.BiologistOf(other.Id), null, CancellationToken.None)).Rows.Should().BeEmpty();
    }

    private static string Field(Taxon taxon) => BenchInput.CountField(taxon.Id, LifeStage.Veliger);

    private Task<PlainBrowser.Page> SaveAsync(PlainBrowser browser, PlainBrowser.Page page, Taxon mussel, string count, params (string, string)[] more)
    {
        List<(string Name, string Value)> typed = [.. more, (Field(mussel), count)];
        if (typed.TrueForAll(field => field.Name != "IdentifiedBy"))
        {
            typed.Add(("IdentifiedBy", $"bench {_station}"));
        }

        return browser.SendAsync(Path, page, "Send", "yes", [.. typed]);
    }

    private Task<AliquotCount[]> CountsAsync(Sample sample) => app.ReadAsync(db => db.AliquotCounts.AsNoTracking()
        .Where(count => db.SampleAliquots.Any(aliquot => aliquot.Id == count.AliquotId && aliquot.SampleId == sample.Id)).ToArrayAsync());

    private async Task<(Sample Sample, Taxon Mussel, PlainBrowser Browser)> StartAsync()
    {
        Station station = await app.AddSampledStationAsync(_station);
        Taxon mussel = await app.TaxonAsync("Quagga mussel", knownFrom: "Copperline Reservoir");
        Sample sample = await app.AddSampleAsync(station, Code);
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"bench {_station}", FleetRoles.Biologist);
        return (sample, mussel, browser);
    }
}
