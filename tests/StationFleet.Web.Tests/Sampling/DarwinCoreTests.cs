using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Platform;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

public sealed class DarwinCoreTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    [Source("Darwin Core text guide (TDWG, 2023-09-13) §2; term lists of github.com/tdwg/dwc, see Published/README.md")]
    public async Task The_archive_fits_the_published_guide_and_term_lists()
    {
        await FillAsync();

        DarwinCoreReader archive = await ArchiveAsync();

        DarwinCoreFit.ToPublishedLists(archive);
        archive.Core.RowType.Should().Be(DarwinCoreReader.Terms + "Event");
        archive.Core.Rows.Should().OnlyContain(row => row["eventDate"].EndsWith('Z') && row["samplingProtocol"].Length > 0, "the sampling-event profile requires both")
            .And.OnlyContain(row => (row["sampleSizeValue"].Length > 0) == (row["sampleSizeUnit"].Length > 0), "they come together")
            .And.OnlyContain(row => row["geodeticDatum"] == "EPSG:4326");
        archive["Occurrence"].Rows.Should().OnlyContain(row => row["basisOfRecord"] == "MaterialSample" && row["scientificName"].Length > 0);
        archive.Metadata.Descendants("title").Single().Value.Should().Contain("Our stations");
        archive.Metadata.Descendants("abstract").Single().Value.Should().Contain("List of Terms 2021-07-15");
    }

    [Fact]
    public async Task The_archive_says_what_the_database_says()
    {
        await FillAsync();

        DarwinCoreFit.ToDatabase(await ArchiveAsync(), app.Get<FleetPaths>().Database, 2026);
    }

    [Fact]
    public async Task Finds_and_absences_are_told_and_what_is_not_released_is_withheld()
    {
        await FillAsync();

        DarwinCoreReader archive = await ArchiveAsync();
        string whole = string.Join('\n', archive.Extensions.Append(archive.Core).SelectMany(table => table.Rows).SelectMany(row => row.Values.Values));

        var rows = archive["Occurrence"].Rows.Select(row => (row.Id, row["vernacularName"], row["lifeStage"], row["occurrenceStatus"], row["individualCount"]));
        rows.Should().Equal(
            ("DWC-1-260708-A", "Quagga mussel", "veliger", "present", "27"),
            ("DWC-1-260708-A", "Spiny waterflea", "veliger", "absent", "0"),
            ("DWC-1-260708-B", "Quagga mussel", "veliger", "absent", "0"));
        whole.Should().NotContain("Secret snail", "it is a presumptive find").And.NotContain("DWC-1-260708-BLANK");
        archive["MeasurementOrFact"].Rows.Should().Contain(row => row.Id == "DWC-1-260708-A" && row["measurementType"] == "tank water examined" && row["measurementValue"] == "1");
    }

    [Fact]
    public async Task A_released_find_is_told()
    {
        await FillAsync();
        await app.ReadAsync(async db =>
        {
            NewFind find = await db.NewFinds.SingleAsync(row => row.State != FindState.Releasable);
            find.State = FindState.Confirmed;
            return await db.SaveChangesAsync();
        });
        DarwinCoreReader confirmed = await ArchiveAsync();
        int id = (await app.Get<ReadFinds>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Rows.Single().Id;

        await app.Get<DecideFind>().HandleAsync(
            Viewers.Biologist, new DecideFind.Command { Find = id, Act = nameof(FindState.Releasable), Note = "The director." }, CancellationToken.None);

        DarwinCoreReader released = await ArchiveAsync();
        Names(confirmed).Should().NotContain("Secret snail");
        Names(released).Should().Contain("Secret snail");
        await app.ReadAsync(async db =>
        {
            // As it was, for the other tests.
            (await db.NewFinds.SingleAsync()).State = FindState.Presumptive;
            db.KnownTaxa.RemoveRange(await db.KnownTaxa.Where(known => known.Basis == "The director.").ToListAsync());
            return await db.SaveChangesAsync();
        });

        static IEnumerable<string> Names(DarwinCoreReader archive) => archive["Occurrence"].Rows.Select(row => row["vernacularName"]);
    }

    [Fact]
    public async Task Technicians_take_no_data_away()
    {
        (_, PlainBrowser browser) = await app.AddBrowserAsync("no export", FleetRoles.Technician);

        (await browser.GoAsync("/samples/darwin-core.zip")).Status.Should().BeOneOf(HttpStatusCode.Forbidden, HttpStatusCode.Found);
        (await browser.GoAsync("/samples/laboratory.csv")).Status.Should().BeOneOf(HttpStatusCode.Forbidden, HttpStatusCode.Found);
    }

    private async Task FillAsync()
    {
        if (await app.ReadAsync(db => db.Samples.AnyAsync()))
        {
            return;
        }

        Station station = await app.AddSampledStationAsync("DWC-1");
        Taxon mussel = await app.TaxonAsync("Quagga mussel", knownFrom: "Copperline Reservoir");
        Taxon flea = await app.TaxonAsync("Spiny waterflea");
        Taxon secret = await app.TaxonAsync("Secret snail", CountedAs.Aliquots);
        await app.AddSampleAsync(station, "DWC-1-260708-A");
        await app.AddSampleAsync(station, "DWC-1-260708-B");
        await app.AddSampleAsync(station, "DWC-1-260708-C");
        await app.AddSampleAsync(station, "DWC-1-260708-BLANK", SampleKind.Blank, 2, null);
        await CountAsync("DWC-1-260708-A", (mussel, 27), (flea, 0), (secret, 2));
        await CountAsync("DWC-1-260708-B", (mussel, 0), (secret, 0));
        await CountAsync("DWC-1-260708-BLANK", (mussel, 0));
    }

    private async Task CountAsync(string code, params (Taxon Taxon, int Count)[] counts) =>
        (await app.Get<SaveCounts>().HandleAsync(Viewers.Biologist, code, Guid.NewGuid().ToString("N"), new BenchInput
        {
            ExaminedMl = "5", IdentifiedBy = "bench, \"north\"",
            Counts = counts.ToDictionary(one => BenchInput.CountField(one.Taxon.Id, LifeStage.Veliger), one => one.Count.ToString(System.Globalization.CultureInfo.InvariantCulture)),
        }, CancellationToken.None)).Should().BeOfType<SaveCounts.Outcome.Saved>();

    private async Task<DarwinCoreReader> ArchiveAsync()
    {
        (_, Cookie cookie) = await app.AddSignedInAsync($"export {Guid.NewGuid():N}", FleetRoles.Supervisor);
        using HttpRequestMessage request = new(HttpMethod.Get, "/samples/darwin-core.zip?year=2026");
        request.Headers.Add("Cookie", $"{cookie.Name}={cookie.Value}");
        using HttpResponseMessage response = await app.Http.SendAsync(request);
        response.StatusCode.Should().Be(HttpStatusCode.OK);
        return DarwinCoreReader.Open(await response.Content.ReadAsByteArrayAsync());
    }
}
