using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>The main job, through the doors that people use.</summary>
[Collection(FortnightTests.Name)]
public sealed class MainJobTests(Fortnight fleet)
{
    [Fact]
    public async Task A_fortnight_raises_the_tickets_that_its_faults_ask_for_and_each_is_mailed()
    {
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();

        // What people raised, by a count or by a boater's report, is another test's.
        List<Ticket> tickets = await db.Tickets.Where(ticket => ticket.Rule != Rule.NewFind && ticket.Rule != Rule.PublicReport).ToListAsync();

        tickets.Select(ticket => ticket.Rule).Distinct().Should().BeEquivalentTo(
            [Rule.IdleTool, Rule.TankFilling, Rule.LowCharge, Rule.NotReporting],
            "a wrench went missing, tanks filled up, a panel was soiled, and a radio was out for two days");
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(page, "/mail");
        foreach (Ticket ticket in tickets)
        {
            await Expect(page.GetByText($"T-{ticket.Number}").First).ToBeVisibleAsync();
        }

        Directory.GetFiles(fleet.App.Get<Web.Platform.FleetPaths>().MailPickup, "*.eml").Should().NotBeEmpty();
    }

    [Fact]
    public async Task Today_says_in_its_first_line_who_needs_someone()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);

        await fleet.OpenAsync(page, "/");

        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("need a visit");
        await Expect(page.Locator(".need li").First).ToContainTextAsync("COP-1");
        await Expect(page.Locator("table.stations tbody tr")).ToHaveCountAsync(6);
        await page.Locator("table.stations").GetByRole(AriaRole.Link, new() { Name = "COP-1" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("COP-1 needs a visit");
        await Expect(page.Locator("x-chart svg").First).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_technician_takes_and_closes_a_ticket_on_a_phone_without_script()
    {
        int number = await OpenTicketAsync(Rule.TankFilling);
        IPage page = await fleet.SignedInAsync(FleetRoles.Technician, Fortnight.Phone(script: false));

        await page.GotoAsync($"{fleet.Url}/work");
        await page.Locator($"a[href='/tickets/{number}']").First.ClickAsync();
        await Expect(page.GetByText("Before you start")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Take it" }).ClickAsync();
        await Expect(page.GetByText("It is yours now.")).ToBeVisibleAsync();
        await page.GetByLabel("Gallons pumped out").FillAsync("45");
        await page.GetByLabel("Minutes here").FillAsync("35");
        await page.GetByLabel("What you found").FillAsync("Screen clogged with weed.");
        await page.GetByLabel("Fixed").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Close the ticket" }).ClickAsync();

        await Expect(page.GetByText("Closed. Thank you.")).ToBeVisibleAsync();
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        Ticket closed = await db.Tickets.SingleAsync(ticket => ticket.Number == number);
        closed.State.Should().Be(TicketState.Closed);
        closed.Outcome.Should().Be(TicketOutcome.Fixed);
        ServiceVisit visit = await db.ServiceVisits.SingleAsync(row => row.TicketId == closed.Id);
        visit.Minutes.Should().Be(35);
        PumpOut pumpOut = await db.PumpOuts.SingleAsync(row => row.VisitId == visit.Id);
        pumpOut.Litres.Should().BeApproximately(45 * 3.785411784, 1e-9, "a US gallon is 3.785411784 L exactly");
    }

    [Fact]
    public async Task A_wrong_value_says_so_beside_the_field_and_keeps_what_was_typed()
    {
        int number = await OpenTicketAsync(Rule.LowCharge);
        IPage page = await fleet.SignedInAsync(FleetRoles.Technician, Fortnight.Phone(script: false));
        await page.GotoAsync($"{fleet.Url}/tickets/{number}");

        await page.GetByLabel("Gallons pumped out").FillAsync("a few");
        await page.GetByLabel("What you found").FillAsync("Panel grey with dust.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Close the ticket" }).ClickAsync();

        await Expect(page.Locator("#wrong-PumpedOut")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Gallons pumped out")).ToHaveValueAsync("a few");
        await Expect(page.GetByLabel("What you found")).ToHaveValueAsync("Panel grey with dust.");
    }

    [Fact]
    public async Task The_supervisor_exports_a_workbook_whose_uses_equal_a_hand_query()
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Supervisor);
        await fleet.OpenAsync(page, "/season");

        IDownload download = await page.RunAndWaitForDownloadAsync(
            () => page.GetByRole(AriaRole.Link, new() { NameRegex = new("workbook|XLSX", System.Text.RegularExpressions.RegexOptions.IgnoreCase) }).First.ClickAsync());

        using SpreadsheetDocument workbook = SpreadsheetDocument.Open(await download.PathAsync(), isEditable: false);
        double exported = UsesIn(workbook);
        exported.Should().BeGreaterThan(0).And.Be(await UsesByHandAsync());
    }

    private static double UsesIn(SpreadsheetDocument workbook)
    {
        WorkbookPart book = workbook.WorkbookPart!;
        Sheet sheet = book.Workbook!.Descendants<Sheet>().Single(candidate => candidate.Name!.Value!.StartsWith("Uses", StringComparison.Ordinal));
        WorksheetPart part = (WorksheetPart)book.GetPartById(sheet.Id!.Value!);
        Row[] rows = [.. part.Worksheet!.Descendants<Row>()];
        int header = Array.FindIndex(rows, row => row.Elements<Cell>().Any(cell => Text(cell) == "Season"));
        string column = Letters(rows[header].Elements<Cell>().Single(cell => Text(cell) == "Season").CellReference!.Value!);
        return rows[(header + 1)..]
            .SelectMany(row => row.Elements<Cell>())
            .Where(cell => Letters(cell.CellReference!.Value!) == column && cell.CellValue is not null && cell.DataType?.Value != CellValues.InlineString)
            .Sum(cell => double.Parse(cell.CellValue!.Text, System.Globalization.CultureInfo.InvariantCulture));
    }

    private static string Text(Cell cell) => cell.InnerText;

    private static string Letters(string reference) => new([.. reference.TakeWhile(char.IsLetter)]);

    // Straight from the raw readings: what each running total gained, reading by reading; after a restart it starts anew.
    private async Task<double> UsesByHandAsync()
    {
        await using SqliteConnection connection = new($"Data Source={fleet.App.Get<Web.Platform.FleetPaths>().Database};Mode=ReadOnly");
        await connection.OpenAsync();
        await using SqliteCommand command = connection.CreateCommand();
        command.CommandText = """
            WITH pairs AS (
              SELECT m.value AS value, LAG(m.value) OVER (PARTITION BY m.series_id ORDER BY m.at) AS before
              FROM measurements m JOIN series s ON s.id = m.series_id
              WHERE s.name LIKE 'tools/%/uses')
            SELECT COALESCE(SUM(CASE WHEN value >= before THEN value - before ELSE value END), 0) FROM pairs WHERE before IS NOT NULL
            """;
        return Convert.ToDouble(await command.ExecuteScalarAsync(), System.Globalization.CultureInfo.InvariantCulture);
    }

    private async Task<int> OpenTicketAsync(Rule rule)
    {
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        return await db.Tickets.Where(ticket => ticket.Rule == rule && ticket.State != TicketState.Closed)
            .OrderBy(ticket => ticket.Number).Select(ticket => ticket.Number).FirstAsync();
    }
}
