using System.Globalization;
using System.Net;
using System.Text.Json;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Seasons;

public sealed class SeasonExportTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task The_exported_figures_equal_hand_queries_on_the_database()
    {
        Station station = await BusyStationAsync("XLS-1");
        using HttpClient http = await SignedInAsync("first supervisor", FleetRoles.Supervisor);

        byte[] file = await http.GetByteArrayAsync($"/season/export.xlsx?year=2026&station={station.Code}");
        using SpreadsheetDocument workbook = SpreadsheetDocument.Open(new MemoryStream(file), isEditable: false);
        string[][] csv = await CsvAsync(http, $"/season/summary.csv?year=2026&station={station.Code}");

        // The season's days: those after the station began, in Boise's time, up to the newest reading.
        double uses = Query($"""
            SELECT sum(value - before) FROM (
                SELECT value, lag(value) OVER (PARTITION BY series_id ORDER BY at) AS before FROM measurements
                WHERE series_id IN (SELECT id FROM series WHERE station_id = {station.Id.Value} AND name LIKE 'tools/%/uses'))
            """);
        uses.Should().BeGreaterThan(100);
        Figure(workbook, "Tool uses").Should().Be(uses);
        Named(csv, "uses").Should().Be(uses);

        double litres = Query($"SELECT sum(litres) FROM pump_outs WHERE station_id = {station.Id.Value}");
        Figure(workbook, "Pumped out").Should().BeApproximately(litres / 3.785411784, 1e-9, "people read gallons");
        Named(csv, "litres_pumped_out").Should().Be(litres);

        Figure(workbook, "Tickets raised").Should().Be(Query($"SELECT count(*) FROM tickets WHERE station_id = {station.Id.Value}"));
        double down = Query($"SELECT ({FleetApp.Start.ToUnixTimeMilliseconds()} - raised) / 3600000.0 FROM tickets WHERE station_id = {station.Id.Value}");
        Figure(workbook, "Down time").Should().BeApproximately(down, 1e-9, "the ticket is open");
        Figure(workbook, "Days in service").Should().BeApproximately(30, 1e-9, "the station exists for a month");
    }

    [Fact]
    public async Task Page_PDF_text_and_CSV_say_the_same_figures()
    {
        Station station = await BusyStationAsync("SAME-1");
        await app.Databases.AddAsync(new Storage.Grants.CostEntry
        {
            Day = new DateOnly(2026, 7, 1), What = "Hose", Amount = Domain.Quantities.Money.Of(123.45m), StationId = station.Id,
            Entered = FleetApp.Start, EnteredBy = "supervisor", IdempotencyKey = "season-export-test-0001",
        });
        using HttpClient http = await SignedInAsync("printing supervisor", FleetRoles.Supervisor);
        string asked = $"?year=2026&station={station.Code}";

        string[][] csv = await CsvAsync(http, $"/season/summary.csv{asked}");
        byte[] pdf = await http.GetByteArrayAsync($"/season/export.pdf{asked}");
        string text = await http.GetStringAsync($"/season/narrative.txt{asked}");
        (_, PlainBrowser browser) = await app.AddBrowserAsync("page supervisor", FleetRoles.Supervisor);
        string page = (await browser.GoAsync($"/season{asked}")).Words;

        string uses = Named(csv, "uses").ToString("#,##0", CultureInfo.InvariantCulture);
        string gallons = (Named(csv, "litres_pumped_out") / 3.785411784).ToString("#,##0", CultureInfo.InvariantCulture);
        double perSession = Named(csv, "cost") / Named(csv, "use_sessions");
        Named(csv, "cost").Should().Be(123.45);
        Named(csv, "cost_per_use_session").Should().BeApproximately(perSession, 1e-6);
        System.Text.Encoding.ASCII.GetString(pdf, 0, 5).Should().Be("%PDF-");
        text.Should().Contain($"{uses} tool uses, {gallons} gal pumped out");
        page.Should().Contain($"{uses} tool uses, {gallons} gal pumped out").And.Contain("123.45").And.Contain(perSession.ToString("0.00", CultureInfo.InvariantCulture));
        (await http.GetByteArrayAsync($"/season/summary.csv{asked}")).Should().Equal(await http.GetByteArrayAsync($"/season/summary.csv{asked}"));
    }

    [Fact]
    public async Task Any_days_can_be_counted_by_award_and_owner_and_two_parts_make_the_whole()
    {
        Station station = await BusyStationAsync("RANGE-1");
        Station other = await BusyStationAsync("RANGE-2");
        foreach ((string number, Station[] funded) in new[] { ("AW-1", new[] { station }), ("AW-2", [station, other]) })
        {
            Storage.Grants.Award award = await app.Databases.AddAsync(new Storage.Grants.Award
            {
                Number = number, Title = "Clean boats", Funder = "State", Starts = new DateOnly(2026, 1, 1), Ends = new DateOnly(2026, 12, 31), TermsId = 1,
            });
            foreach (Station each in funded)
            {
                await app.Databases.AddAsync(new Storage.Grants.AwardStation { AwardId = award.Id, StationId = each.Id });
            }
        }

        using HttpClient http = await SignedInAsync("range supervisor", FleetRoles.Supervisor);
        double Uses(string[][] csv) => csv.Skip(1).Sum(row => double.Parse(row[Array.IndexOf(csv[0], "uses")], CultureInfo.InvariantCulture));

        double whole = Uses(await CsvAsync(http, "/season/summary.csv?from=2026-06-01&to=2026-07-31&award=AW-2"));
        double june = Uses(await CsvAsync(http, "/season/summary.csv?from=2026-06-01&to=2026-06-30&award=AW-2"));
        double july = Uses(await CsvAsync(http, "/season/summary.csv?from=2026-07-01&to=2026-07-31&award=AW-2"));
        string[][] one = await CsvAsync(http, "/season/summary.csv?from=2026-06-01&to=2026-07-31&award=AW-1");

        whole.Should().Be(june + july).And.BeGreaterThan(100);
        one.Skip(1).Select(row => row[0]).Should().Equal("RANGE-1");
        (await http.GetAsync("/season/summary.csv?owner=Nobody")).StatusCode.Should().Be(HttpStatusCode.NotFound);
        (_, PlainBrowser browser) = await app.AddBrowserAsync("range reader", FleetRoles.Supervisor);
        (await browser.GoAsync("/season?from=2026-06-01&to=2026-07-31&award=AW-1")).Words.Should()
            .Contain("1 June 2026 to 31 July 2026").And.Contain("Jointly funded: the figures of RANGE-1 in AW-1 and AW-2. Do not add them up over awards.");
        (await http.GetStringAsync("/season/narrative.txt?from=2026-06-01&to=2026-07-31&award=AW-1")).Should()
            .Contain("1 June 2026 to 31 July 2026, award AW-1").And.Contain("Jointly funded: the figures of RANGE-1 in AW-1 and AW-2.");
    }

    [Fact]
    public async Task An_access_counts_only_what_happened_there_and_the_accesses_make_the_whole()
    {
        Station station = await BusyStationAsync("MOVED-1", movesAt: FleetApp.Start.AddDays(-10));
        await app.Databases.AddAsync(new ServiceVisit { StationId = station.Id, Who = "crew", At = FleetApp.Start.AddDays(-12), Minutes = 30, Hours = Domain.Service.HoursKind.Match });
        await app.Databases.AddAsync(new ServiceVisit { StationId = station.Id, Who = "crew", At = FleetApp.Start.AddDays(-2), Minutes = 90, Hours = Domain.Service.HoursKind.Volunteer });
        using HttpClient http = await SignedInAsync("access supervisor", FleetRoles.Supervisor);

        string[][] whole = await CsvAsync(http, "/season/summary.csv?year=2026&station=MOVED-1");
        string[][] first = await CsvAsync(http, "/season/summary.csv?year=2026&access=moved-1");
        string[][] second = await CsvAsync(http, "/season/summary.csv?year=2026&access=moved-1-b");

        foreach (string figure in new[] { "required_hours", "uses", "use_sessions", "pump_outs", "visits", "visit_hours", "visit_hours_match", "visit_hours_volunteer", "tickets_raised", "down_hours" })
        {
            Named(whole, figure).Should().BeApproximately(Named(first, figure) + Named(second, figure), 1e-5, figure);
        }

        Named(first, "days_in_service").Should().BeApproximately(20, 1e-6);
        (Named(first, "visit_hours_match"), Named(second, "visit_hours_volunteer"), Named(second, "visit_hours_paid")).Should().Be((0.5, 1.5, 0));
        Named(second, "pump_outs").Should().Be(1, "the tank was emptied nine days ago");
        (await http.GetAsync("/season/summary.csv?access=nowhere")).StatusCode.Should().Be(HttpStatusCode.NotFound);
        (await http.GetStringAsync("/season/narrative.txt?year=2026&access=moved-1")).Should().Contain("so far").And.Contain(", Copperline Reservoir");
    }

    [Fact]
    public async Task A_submitted_summary_stays_as_it_was_and_says_what_changed_since()
    {
        Station station = await BusyStationAsync("FROZEN-1");
        Web.Seasons.SubmitSeason submit = app.Get<Web.Seasons.SubmitSeason>();
        int id = (await submit.HandleAsync(Accounts.Viewers.Supervisor, new Web.Seasons.SummariseSeason.Query(2026, station.Code), CancellationToken.None))!.Value;
        (await submit.HandleAsync(Accounts.Viewers.Technician, new Web.Seasons.SummariseSeason.Query(2026, station.Code), CancellationToken.None)).Should().BeNull();

        Web.Seasons.SubmitSeason.View same = (await submit.ReadAsync(Accounts.Viewers.Supervisor, id, CancellationToken.None))!;
        await app.Databases.AddAsync(new PumpOut { StationId = station.Id, At = FleetApp.Start.AddDays(-3), Litres = 100, Source = PumpOutSource.Visit });
        Web.Seasons.SubmitSeason.View changed = (await submit.ReadAsync(Accounts.Viewers.Supervisor, id, CancellationToken.None))!;

        same.Changes.Should().BeEmpty();
        changed.Figures.Should().Equal(same.Figures, "what was handed in stays");
        changed.Changes.Should().Contain(new Web.Seasons.SubmitSeason.Changed("FROZEN-1", "Pump-outs", "1", "2"))
            .And.Contain(change => change.Figure == "Pumped out" && change.Was == "37 gal" && change.Is == "64 gal");
        (_, PlainBrowser browser) = await app.AddBrowserAsync("frozen reader", FleetRoles.Supervisor);
        (await browser.GoAsync($"/season/submitted/{id}")).Words.Should().Contain("figures changed since it was handed in.");
    }

    [Fact]
    public async Task Each_table_comes_as_CSV_and_the_description_names_where()
    {
        Station station = await BusyStationAsync("CSV-1");
        using HttpClient http = await SignedInAsync("second supervisor", FleetRoles.Supervisor);

        using JsonDocument tables = JsonDocument.Parse(await http.GetStringAsync($"/season/tables.json?year=2026&station={station.Code}"));

        foreach (JsonElement table in tables.RootElement.GetProperty("tables").EnumerateArray())
        {
            using HttpResponseMessage answer = await http.GetAsync($"/season/{table.GetProperty("url").GetString()}");
            answer.StatusCode.Should().Be(HttpStatusCode.OK);
            answer.Content.Headers.ContentType!.MediaType.Should().Be("text/csv");
            (await answer.Content.ReadAsStringAsync()).Split("\r\n").Length.Should().Be(table.GetProperty("rows").GetInt32() + 2);
        }
    }

    [Theory]
    [InlineData("/season/export.xlsx?station=NOBODY")]
    [InlineData("/season/export.xlsx?year=1999")]
    [InlineData("/season/users.csv")]
    public async Task What_does_not_exist_is_not_found(string address)
    {
        await BusyStationAsync($"MISS-{address.Length}-{address[^1]}");
        using HttpClient http = await SignedInAsync($"supervisor {address.Length}{address[^1]}", FleetRoles.Supervisor);

        (await http.GetAsync(address)).StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task Only_those_who_answer_for_the_figures_may_take_them_away()
    {
        using HttpClient technician = await SignedInAsync("field crew", FleetRoles.Technician);

        (await technician.GetAsync("/season/export.xlsx")).Headers.Location!.AbsolutePath.Should().Be("/not-allowed");
        (await app.Http.GetAsync("/season/summary.csv")).Headers.Location!.AbsolutePath.Should().Be("/sign-in");
    }

    [Fact]
    public async Task The_page_says_the_main_figures_first_and_links_its_exports()
    {
        Station station = await BusyStationAsync("PAGE-1");
        (_, PlainBrowser browser) = await app.AddBrowserAsync("page biologist", FleetRoles.Biologist);

        PlainBrowser.Page page = await browser.GoAsync($"/season?year=2026&station={station.Code}");

        page.Words.Should().Contain("Season 2026, 1 May to 15 October, PAGE-1, so far PAGE-1 was available ");
        page.Words.Should().Contain("Tool uses Station Tool uses Of which on an uncertain day").And.Contain("By week By month").And.Contain("How these figures are made");
        page.Html.Should().Contain("/season/export.xlsx?year=2026&amp;station=PAGE-1");
        (await browser.GoAsync("/season?station=NOBODY")).Words.Should().Contain("There is no station NOBODY among yours.");
    }

    private async Task<Station> BusyStationAsync(string code, DateTimeOffset? movesAt = null)
    {
        Access access = await app.Databases.AddAccessAsync(code.ToLowerInvariant());
        Agency agency = await app.Databases.AddAgencyAsync();
        Station station = await app.Databases.AddAsync(new Station
        {
            Code = code, OwnerId = agency.Id, OperatorId = agency.Id, Created = FleetApp.Start.AddDays(-30),
        });
        await app.Databases.AddPlacementAsync(station, access, station.Created, movesAt);
        if (movesAt is { } moves)
        {
            await app.Databases.AddPlacementAsync(station, await app.Databases.AddAccessAsync($"{code.ToLowerInvariant()}-b"), moves);
        }

        Random random = new(code.Length);
        double uses = 40;
        List<IndexedMeasurement> measurements = [];
        for (DateTimeOffset at = station.Created.AddHours(1); at <= FleetApp.Start; at = at.AddHours(2.5))
        {
            uses += random.Next(5);
            measurements.Add(new IndexedMeasurement(measurements.Count, new Measurement(MeasurementName.Uses("vacuum"), at, uses), ""));
        }

        (await app.Get<MeasurementWriter>().WriteAsync(new ReportToStore(station.Id, FleetApp.Start, measurements, []), CancellationToken.None))
            .Should().BeOfType<WriteOutcome.Stored>();
        await app.Databases.AddAsync(new PumpOut { StationId = station.Id, At = FleetApp.Start.AddDays(-9), Litres = 140.5, Source = PumpOutSource.Telemetry });
        await app.Databases.AddAsync(new Ticket
        {
            Number = 1000 + station.Id.Value, StationId = station.Id, AccessId = access.Id, Rule = Rule.IdleTool, Part = "vacuum",
            Raised = FleetApp.Start.AddHours(-7.5), Evidence = "{}",
        });
        return station;
    }

    private async Task<HttpClient> SignedInAsync(string name, string role)
    {
        (_, Cookie cookie) = await app.AddSignedInAsync(name, role);
        CookieContainer cookies = new();
        cookies.Add(app.Address, new Cookie(cookie.Name, cookie.Value, "/"));
        return new HttpClient(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = app.Address };
    }

    private double Query(string sql)
    {
        using SqliteConnection connection = new(app.Get<FleetDatabase>().ReadOnlyConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is the test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        return Convert.ToDouble(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    private static double Figure(SpreadsheetDocument workbook, string figure)
    {
        WorkbookPart book = workbook.WorkbookPart!;
        Sheet summary = book.Workbook!.Descendants<Sheet>().Single(sheet => sheet.Name == "Summary");
        Row row = ((WorksheetPart)book.GetPartById(summary.Id!)).Worksheet!.Descendants<Row>()
            .Single(row => row.Elements<Cell>().FirstOrDefault()?.InnerText == figure);
        return double.Parse(row.Elements<Cell>().ElementAt(2).CellValue!.Text, CultureInfo.InvariantCulture);
    }

    private static async Task<string[][]> CsvAsync(HttpClient http, string address) =>
    [
        .. (await http.GetStringAsync(address)).Replace(", Copperline Reservoir", "", StringComparison.Ordinal)
            .Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(',')),
    ];

    private static double Named(string[][] rows, string column) =>
        double.Parse(rows[1][Array.IndexOf(rows[0], column)], CultureInfo.InvariantCulture);
}
