using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Web.Tests.Platform;
using StationFleet.Web.Tests.Telemetry;

namespace StationFleet.Web.Tests.Seasons;

/// <summary>
/// The demo's season of 2025: each figure as page, document, workbook and table show it, beside one another and beside SQL over the raw
/// tables. The document is read with poppler, the workbook as the XML that it is, and by LibreOffice where that is there.
/// </summary>
[Collection(DemoApp.Collection)]
public sealed class DemoSeasonTests(DemoApp app)
{
    private const string Asked = "?year=2025";
    private const string All = "all";
    private const double LitresInGallon = 3.785411784;

    private static readonly string[] ByOtherMeans =
        ["litres_pumped_out_uncertainty", .. BoatDefinitions.All.Select(figure => figure.Key).Except(["count_shifts", "uses_per_boat"])];

    [Fact]
    public async Task Every_figure_of_every_station_equals_SQL_over_the_raw_tables()
    {
        Dictionary<string, Dictionary<string, double?>> csv = await TablesAsync();
        using SqliteConnection connection = new(app.Get<FleetDatabase>().ReadOnlyConnectionString);
        connection.Open();
        SeasonBySql sql = new(connection, new DateOnly(2025, 5, 1), new DateOnly(2025, 10, 15), TimeZoneInfo.FindSystemTimeZoneById("America/Boise"));
        List<string> differ = [];
        HashSet<string> proven = [];

        foreach ((string station, Dictionary<string, double?> figures) in csv.Where(row => row.Key != All))
        {
            Dictionary<string, double?> known = sql.Of(station);
            proven.UnionWith(known.Keys);
            differ.AddRange(known.Where(figure => !Same(figures[figure.Key], figure.Value, 2e-6)).Select(figure => $"{station} {figure.Key}: {figures[figure.Key]}, by SQL {figure.Value}"));
        }

        differ.Should().BeEmpty();
        csv.Keys.Should().HaveCount(7, "six stations, and all together");
        csv["all"]["uses"].Should().BeGreaterThan(10_000).And.Be(csv.Where(row => row.Key != All).Sum(row => row.Value["uses"]));
        SeasonDefinitions.All.Select(figure => figure.Key).Except(proven).Should().BeEquivalentTo(ByOtherMeans, "the dips' scatter and what follows from count shifts have tests of their own");
    }

    [Fact]
    public async Task Page_document_workbook_and_table_show_the_same_figures()
    {
        Dictionary<string, Dictionary<string, double?>> csv = await TablesAsync();
        using HttpClient http = await app.SignedInAsync(FleetRoles.Supervisor);
        string page = await http.GetStringAsync($"/season{Asked}");
        string[] document = (await RunAsync("pdftotext", await http.GetByteArrayAsync($"/season/export.pdf{Asked}"), ".pdf", file => ["-layout", file, "-"])).Split('\n');
        string[][] workbook = Sheet(await http.GetByteArrayAsync($"/season/export.xlsx{Asked}"), "Summary");
        string[] columns = [.. workbook.First(row => row is ["Figure", ..])];
        List<string> differ = [];

        foreach (FigureDefinition figure in SeasonDefinitions.All)
        {
            string[] cells = workbook.First(row => row[0] == figure.Name);
            string line = document.First(text => Regex.IsMatch(text, $@"^\s*{Regex.Escape(figure.Name)}( \[\S+\])?\s{{2,}}\S") && Numbers(text).Length >= 7);
            foreach ((int column, string station) in csv.Keys.Index())
            {
                double? value = csv[station][figure.Key];
                double? people = figure.Unit == FigureUnit.Volume ? value / LitresInGallon : value;
                string words = Words(figure.Unit, people);
                string cell = cells[Array.IndexOf(columns, station == All ? "All stations" : station)];
                if (!Same(cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture), people, 2e-6))
                {
                    differ.Add($"workbook, {station} {figure.Key}: {cell}, not {people}");
                }

                if (Numbers(line)[^(7 - column)] != words.Replace(" ", "", StringComparison.Ordinal))
                {
                    differ.Add($"document, {station} {figure.Key}: {line.Trim()}, not {words}");
                }

                // On the page a figure of count shifts stands with its limits in one cell, and where nobody counted there is none.
                if (!BoatDefinitions.All.Contains(figure) && OnPage(page, figure.Key, station) is var shown && shown != words)
                {
                    differ.Add($"page, {station} {figure.Key}: {shown}, not {words}");
                }
            }
        }

        differ.Should().BeEmpty();
    }

    [Fact]
    public async Task What_was_counted_in_samples_equals_SQL_and_stands_alike_everywhere()
    {
        await app.WholePastAsync();
        using HttpClient http = await app.SignedInAsync(FleetRoles.Supervisor);
        Dictionary<string, string>[] months = Csv(await http.GetStringAsync($"/season/organisms-by-month.csv{Asked}"));
        Dictionary<string, string>[] removed = Csv(await http.GetStringAsync($"/season/organisms-removed.csv{Asked}"));
        string text = await http.GetStringAsync($"/season/narrative.txt{Asked}");
        string page = WebUtility.HtmlDecode(await http.GetStringAsync($"/season{Asked}"));
        string document = await RunAsync("pdftotext", await http.GetByteArrayAsync($"/season/export.pdf{Asked}"), ".pdf", file => [file, "-"]);
        using SqliteConnection connection = new(app.Get<FleetDatabase>().ReadOnlyConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = """
            SELECT sum(c.count) FROM aliquot_counts c JOIN sample_aliquots a ON a.id = c.aliquot_id JOIN samples s ON s.id = a.sample_id
            JOIN taxa t ON t.id = c.taxon_id JOIN accesses x ON x.id = s.access_id
            WHERE a.recount_of IS NULL AND s.kind = 'Grab' AND t.name = 'Quagga mussel' AND c.stage = 'Veliger' AND x.water = 'Copperline Reservoir'
            AND s.taken_at >= 1746079200000 AND s.taken_at < 1760594400000
            """;

        Dictionary<string, string>[] veligers = [.. months.Where(row => row["organism"] == "Quagga mussel, veliger" && row["water"] == "Copperline Reservoir")];
        Dictionary<string, string> season = removed.Single(row => row["organism"] == "Quagga mussel, veliger" && row["water"] == "Copperline Reservoir");

        veligers.Sum(row => int.Parse(row["counted"], CultureInfo.InvariantCulture)).Should().Be(Convert.ToInt32(command.ExecuteScalar(), CultureInfo.InvariantCulture)).And.BePositive();
        veligers.Where(row => row["periods_sampled"] == "0").Should().OnlyContain(row => row["per_litre"] == "" && row["remark"] == "no sample");
        string sentence = text.Split('\n').Single(line => line.Contains("Quagga mussel veligers", StringComparison.Ordinal) && line.StartsWith("Copperline", StringComparison.Ordinal)).Split(": ")[1];
        page.Should().Contain(sentence);
        Squeezed(document).Should().Contain(Squeezed(sentence));
        sentence.Should().Contain($"({season["periods_sampled"]} of {season["periods"]} collections, ");
        removed.Select(row => row["organism"]).Should().NotContain(name => name.StartsWith("Eurasian", StringComparison.Ordinal), "it was never released");
    }

    [Fact]
    public async Task Each_figure_of_the_page_leads_to_its_rows()
    {
        using HttpClient http = await app.SignedInAsync(FleetRoles.Supervisor);
        string page = await http.GetStringAsync($"/season{Asked}");

        foreach (FigureDefinition figure in SeasonDefinitions.All)
        {
            if (!BoatDefinitions.Limits.Contains(figure))
            {
                OnPage(page, figure.Key, "COP-1").Should().NotBeNull(figure.Key);
            }

            string rows = WebUtility.HtmlDecode(await http.GetStringAsync($"/season/rows/{figure.Key}{Asked}&station=COP-1"));
            rows.Should().Contain($"<h1>{figure.Name}: ").And.Contain("Season 2025, 1 May to 15 October, COP-1");
        }

        string tickets = await http.GetStringAsync($"/season/rows/tickets_raised{Asked}&station=COP-1");
        Regex.Count(tickets, "href=\"/tickets/").Should().Be((int)(await TablesAsync())["COP-1"]["tickets_raised"]!.Value);
        (await http.GetStringAsync($"/season/rows/uses_of_nothing{Asked}")).Should().Contain("There is no such figure");
    }

    [RunsFact("soffice")]
    public async Task LibreOffice_opens_the_workbook_and_reads_the_same_figures()
    {
        Dictionary<string, Dictionary<string, double?>> csv = await TablesAsync();
        using HttpClient http = await app.SignedInAsync(FleetRoles.Supervisor);
        string read = await RunAsync("soffice", await http.GetByteArrayAsync($"/season/export.xlsx{Asked}"), ".xlsx", file =>
        [
            $"-env:UserInstallation=file://{Path.GetDirectoryName(file)}/office", "--headless", "--convert-to", "csv:Text - txt - csv (StarCalc):9,34,76,1",
            "--outdir", Path.GetDirectoryName(file)!, file,
        ], ".csv");

        // As shown on its sheet: with thousands parted by commas, and hours with one decimal.
        string[][] cells = [.. read.Split('\n').Select(line => line.Split('\t').Select(cell => cell.Trim('"')).ToArray())];
        double Shown(string figure, int column) => double.Parse(cells.Single(row => row[0] == figure)[column], NumberStyles.Number, CultureInfo.InvariantCulture);

        Shown("Tool uses", 8).Should().Be(csv[All]["uses"]);
        Shown("Down time", 2).Should().BeApproximately(csv["COP-1"]["down_hours"]!.Value, 0.0501);
    }

    private async Task<Dictionary<string, Dictionary<string, double?>>> TablesAsync()
    {
        await app.WholePastAsync();
        using HttpClient http = await app.SignedInAsync(FleetRoles.Supervisor);
        Dictionary<string, Dictionary<string, double?>> tables = Csv(await http.GetStringAsync($"/season/summary.csv{Asked}")).ToDictionary(row => row["station"], Figures);
        tables[All] = Figures(Csv(await http.GetStringAsync($"/season/fleet.csv{Asked}"))[0]);
        return tables;

        static Dictionary<string, double?> Figures(Dictionary<string, string> row) => SeasonDefinitions.All.ToDictionary(
            figure => figure.Key, figure => row[figure.Key].Length == 0 ? (double?)null : double.Parse(row[figure.Key], CultureInfo.InvariantCulture));
    }

    private static bool Same(double? one, double? other, double tolerance) =>
        one is null == other is null && Math.Abs((one ?? 0) - (other ?? 0)) <= tolerance * Math.Max(1, Math.Abs(other ?? 0));

    // How people read a figure, written down here anew.
    private static string Words(FigureUnit unit, double? value) => (unit, value) switch
    {
        (_, null) => "–",
        (FigureUnit.Share, { } share) => (share < 1 ? Math.Min(99.9, share * 100) : 100).ToString("0.0", CultureInfo.InvariantCulture) + " %",
        (FigureUnit.Count or FigureUnit.Volume, { } number) => number.ToString("#,##0", CultureInfo.InvariantCulture),
        (FigureUnit.Money or FigureUnit.Ratio, { } money) => money.ToString("#,##0.00", CultureInfo.InvariantCulture),
        (_, { } number) => number.ToString("#,##0.0", CultureInfo.InvariantCulture),
    };

    private static string[] Numbers(string line) =>
        [.. Regex.Matches(line, @"(?<=\s{2,})(–|[\d,]+(\.\d+)?( %)?)(?=\s|$)").Select(match => match.Value.Replace(" ", "", StringComparison.Ordinal))];

    private static string? OnPage(string page, string key, string station)
    {
        string at = station == All ? "(?![^\"]*station=)" : $"[^\"]*station={station}\"";
        Match match = Regex.Match(page, $"<a class=\"fig\" href=\"/season/rows/{key}\\?{at}[^>]*>([^<]*)</a>");
        return match.Success ? WebUtility.HtmlDecode(match.Groups[1].Value).Trim() : null;
    }

    private static Dictionary<string, string>[] Csv(string text)
    {
        string[][] rows =
        [
            .. text.Split("\r\n", StringSplitOptions.RemoveEmptyEntries)
                .Select(line => Regex.Matches(line, "(?:^|,)(?:\"((?:[^\"]|\"\")*)\"|([^,]*))").Select(cell => cell.Groups[1].Success ? cell.Groups[1].Value.Replace("\"\"", "\"", StringComparison.Ordinal) : cell.Groups[2].Value).ToArray()),
        ];
        return [.. rows.Skip(1).Select(row => rows[0].Zip(row).ToDictionary(cell => cell.First, cell => cell.Second))];
    }

    // The workbook as a stranger reads it: a zip of XML.
    private static string[][] Sheet(byte[] file, string name)
    {
        using ZipArchive zip = new(new MemoryStream(file));
        XElement Part(string path)
        {
            using Stream stream = zip.GetEntry(path)!.Open();
            return XElement.Load(stream);
        }

        XNamespace main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
        XNamespace relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        string id = Part("xl/workbook.xml").Descendants(main + "sheet").Single(sheet => (string?)sheet.Attribute("name") == name).Attribute(relations + "id")!.Value;
        string target = Part("xl/_rels/workbook.xml.rels").Elements().Single(relation => (string?)relation.Attribute("Id") == id).Attribute("Target")!.Value;
        return
        [
            .. Part(target.StartsWith('/') ? target[1..] : $"xl/{target}").Descendants(main + "row")
                .Select(row => row.Elements(main + "c").Select(cell => (string?)cell.Element(main + "v") ?? string.Concat(cell.Descendants(main + "t").Select(words => words.Value))).ToArray()),
        ];
    }

    private static async Task<string> RunAsync(string program, byte[] content, string ending, Func<string, string[]> arguments, string? result = null)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("fleet-");
        try
        {
            string file = Path.Combine(folder.FullName, $"season{ending}");
            await File.WriteAllBytesAsync(file, content);
            using Process process = Process.Start(new ProcessStartInfo(program, arguments(file)) { RedirectStandardOutput = true, StandardOutputEncoding = Encoding.UTF8 })!;
            string output = await process.StandardOutput.ReadToEndAsync();
            await process.WaitForExitAsync();
            process.ExitCode.Should().Be(0, program);
            return result is null ? output : await File.ReadAllTextAsync(Path.ChangeExtension(file, result));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string Squeezed(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter)));
}
