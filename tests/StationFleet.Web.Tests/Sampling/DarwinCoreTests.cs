using System.IO.Compression;
using System.Net;
using System.Xml.Linq;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Sampling;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

public sealed class DarwinCoreTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const string Terms = "http://rs.tdwg.org/dwc/terms/";
    private static readonly XNamespace Text = "http://rs.tdwg.org/dwc/text/";

    /// <summary>A file of the archive: its columns by term, its rows.</summary>
    private sealed record Table(string RowType, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyDictionary<string, string>> Rows);

    [Fact]
    [Source("Darwin Core text guide (TDWG, 2023-09-13) §2; term lists of github.com/tdwg/dwc, see Published/README.md")]
    public async Task The_archive_fits_the_published_guide_and_term_lists()
    {
        await FillAsync();

        (Dictionary<string, Table> tables, XDocument eml) = await ArchiveAsync();

        tables.Keys.Should().Equal("event.txt", "occurrence.txt", "measurementorfact.txt");
        tables["event.txt"].RowType.Should().Be(Terms + "Event");
        tables["occurrence.txt"].RowType.Should().Be(Terms + "Occurrence");
        tables["measurementorfact.txt"].RowType.Should().Be(Terms + "MeasurementOrFact");
        foreach ((string file, Table table) in tables)
        {
            IEnumerable<string> published = PublishedTerms(file).Append("eventID");
            table.Columns.Should().OnlyHaveUniqueItems().And.BeSubsetOf(published, file);
            table.Rows.Should().NotBeEmpty().And.OnlyContain(row => row.Count == table.Columns.Count);
        }

        string[] events = [.. tables["event.txt"].Rows.Select(row => row["eventID"])];
        events.Should().OnlyHaveUniqueItems();
        tables["event.txt"].Rows.Where(row => row["parentEventID"].Length > 0).Select(row => row["parentEventID"]).Should().BeSubsetOf(events);
        tables["occurrence.txt"].Rows.Concat(tables["measurementorfact.txt"].Rows).Select(row => row["eventID"]).Should().BeSubsetOf(events);
        tables["event.txt"].Rows.Should().OnlyContain(row => row["eventDate"].EndsWith('Z') && row["samplingProtocol"].Length > 0, "the sampling-event profile requires both")
            .And.OnlyContain(row => (row["sampleSizeValue"].Length > 0) == (row["sampleSizeUnit"].Length > 0), "they come together")
            .And.OnlyContain(row => row["geodeticDatum"] == "EPSG:4326");
        tables["occurrence.txt"].Rows.Select(row => row["occurrenceID"]).Should().OnlyHaveUniqueItems();
        tables["occurrence.txt"].Rows.Should().OnlyContain(row => row["basisOfRecord"] == "MaterialSample" && row["scientificName"].Length > 0);
        eml.Descendants("title").Single().Value.Should().Contain("Our stations");
        eml.Descendants("abstract").Single().Value.Should().Contain("List of Terms 2021-07-15");
    }

    [Fact]
    public async Task Finds_and_absences_are_told_and_what_is_not_released_is_withheld()
    {
        await FillAsync();

        (Dictionary<string, Table> tables, _) = await ArchiveAsync();
        string whole = string.Join('\n', tables.Values.SelectMany(table => table.Rows).SelectMany(row => row.Values));

        var rows = tables["occurrence.txt"].Rows.Select(row => (row["eventID"], row["vernacularName"], row["lifeStage"], row["occurrenceStatus"], row["individualCount"]));
        rows.Should().Equal(
            ("DWC-1-260708-A", "Quagga mussel", "veliger", "present", "27"),
            ("DWC-1-260708-A", "Spiny waterflea", "veliger", "absent", "0"),
            ("DWC-1-260708-B", "Quagga mussel", "veliger", "absent", "0"));
        whole.Should().NotContain("Secret snail", "it is a presumptive find").And.NotContain("DWC-1-260708-BLANK");
        tables["measurementorfact.txt"].Rows.Should().Contain(row => row["eventID"] == "DWC-1-260708-A" && row["measurementType"] == "tank water examined" && row["measurementValue"] == "1");
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
        (Dictionary<string, Table> confirmed, _) = await ArchiveAsync();
        int id = (await app.Get<ReadFinds>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Rows.Single().Id;

        await app.Get<DecideFind>().HandleAsync(
            Viewers.Biologist, new DecideFind.Command { Find = id, Act = nameof(FindState.Releasable), Note = "The director." }, CancellationToken.None);

        (Dictionary<string, Table> released, _) = await ArchiveAsync();
        Names(confirmed).Should().NotContain("Secret snail");
        Names(released).Should().Contain("Secret snail");
        await app.ReadAsync(async db =>
        {
            // As it was, for the other tests.
            (await db.NewFinds.SingleAsync()).State = FindState.Presumptive;
            db.KnownTaxa.RemoveRange(await db.KnownTaxa.Where(known => known.Basis == "The director.").ToListAsync());
            return await db.SaveChangesAsync();
        });

        static IEnumerable<string> Names(Dictionary<string, Table> tables) => tables["occurrence.txt"].Rows.Select(row => row["vernacularName"]);
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

    private async Task<(Dictionary<string, Table> Tables, XDocument Eml)> ArchiveAsync()
    {
        (_, Cookie cookie) = await app.AddSignedInAsync($"export {Guid.NewGuid():N}", FleetRoles.Supervisor);
        using HttpRequestMessage request = new(HttpMethod.Get, "/samples/darwin-core.zip?year=2026");
        request.Headers.Add("Cookie", $"{cookie.Name}={cookie.Value}");
        using HttpResponseMessage response = await app.Http.SendAsync(request);
        response.StatusCode.Should().Be(HttpStatusCode.OK);
        byte[] bytes = await response.Content.ReadAsByteArrayAsync();
        using ZipArchive zip = new(new MemoryStream(bytes));
        XDocument meta = XDocument.Load(zip.GetEntry("meta.xml")!.Open());
        XElement archive = meta.Root!;
        archive.Name.Should().Be(Text + "archive");
        archive.Elements(Text + "core").Should().ContainSingle().Which.Element(Text + "id").Should().NotBeNull("there are extensions");
        archive.Elements(Text + "extension").Should().OnlyContain(extension => extension.Element(Text + "coreid") != null);
        zip.Entries.Select(entry => entry.Name).Should().BeEquivalentTo("meta.xml", archive.Attribute("metadata")!.Value, "event.txt", "occurrence.txt", "measurementorfact.txt");
        return (
            archive.Elements().ToDictionary(file => file.Descendants(Text + "location").Single().Value, file => Read(zip, file)),
            XDocument.Load(zip.GetEntry("eml.xml")!.Open()));
    }

    // Reads a file as meta.xml describes it, and by that alone.
    private static Table Read(ZipArchive zip, XElement file)
    {
        using StreamReader reader = new(zip.GetEntry(file.Descendants(Text + "location").Single().Value)!.Open());
        string[] lines = reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        file.Attribute("ignoreHeaderLines")!.Value.Should().Be("1");
        XElement[] fields = [.. file.Elements(Text + "field").OrderBy(field => (int)field.Attribute("index")!)];
        fields.Select(field => (int)field.Attribute("index")!).Should().Equal(Enumerable.Range(0, fields.Length));
        string[] columns = [.. fields.Select(field => field.Attribute("term")!.Value).Select(term => term[(term.LastIndexOf('/') + 1)..])];
        return new Table(
            file.Attribute("rowType")!.Value, columns,
            [.. lines.Skip(1).Select(line => CsvLine.Split(line, ',')!).Select(cells => columns.Zip(cells).ToDictionary(pair => pair.First, pair => pair.Second))]);
    }

    private static string[] PublishedTerms(string file) =>
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Published", file)).Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries);
}
