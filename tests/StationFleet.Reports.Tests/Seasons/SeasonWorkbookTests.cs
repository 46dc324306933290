using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Seasons;
using SheetCell = DocumentFormat.OpenXml.Spreadsheet.Cell;

namespace StationFleet.Reports.Tests.Seasons;

public sealed class SeasonWorkbookTests
{
    [Fact]
    public void The_file_keeps_to_the_format()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report());

        new OpenXmlValidator(DocumentFormat.OpenXml.FileFormatVersions.Office2019).Validate(workbook)
            .Select(error => $"{error.Path?.XPath}: {error.Description}").Should().BeEmpty();
    }

    [Fact]
    public void A_season_without_anything_keeps_to_the_format_too()
    {
        SeasonReport empty = new(SeasonSummary.Of(new SeasonInput(
            new Season(2026, new DateOnly(2026, 5, 1), new DateOnly(2026, 10, 15)), SampleSeason.May1, [])));
        using SpreadsheetDocument workbook = Open(empty);

        new OpenXmlValidator().Validate(workbook).Should().BeEmpty();
    }

    [Fact]
    public void There_is_one_sheet_for_each_table()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report());

        workbook.WorkbookPart!.Workbook!.Sheets!.Elements<Sheet>().Select(sheet => sheet.Name!.Value)
            .Should().Equal(
                "Summary", "Beside the year before", "Uses by month", "Tickets", "Pump-outs", "Organisms removed", "Organisms by month", "The data behind it", "Definitions");
    }

    [Fact]
    public void Figures_are_numbers_equal_to_the_seasons()
    {
        SeasonReport report = SampleSeason.Report();
        SeasonSummary summary = report.Summary;
        using SpreadsheetDocument workbook = Open(report);

        Number(workbook, "Summary", "Tool uses", column: 2).Should().Be(1_955);
        Number(workbook, "Summary", "Tool uses", column: 4).Should().Be(summary.Fleet.Uses);
        Number(workbook, "Summary", "Availability", column: 4).Should().Be(summary.Fleet.Availability.Share);
        Number(workbook, "Summary", "Days in service", column: 3).Should().Be(58);
        Number(workbook, "Summary", "Pumped out", column: 2).Should().BeApproximately(48.0, 0.05, "181.7 L are 48.0 gal");
        Number(workbook, "Uses by month", "COP-1", column: 3).Should().Be(740);
    }

    [Fact]
    public void Times_are_dates_on_the_access_s_clock()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report());

        DateTime.FromOADate(Number(workbook, "Tickets", "T-11", column: 4)).Should().Be(new DateTime(2026, 5, 21));
        Number(workbook, "Tickets", "T-11", column: 7).Should().Be(30);
    }

    [Fact]
    public void Words_stay_words_even_when_they_look_like_a_formula()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report("=1+2"));

        SheetCell cell = Row(workbook, "Tickets", "T-11").Elements<SheetCell>().ElementAt(3);
        cell.DataType!.Value.Should().Be(CellValues.InlineString);
        cell.InnerText.Should().Be("=1+2");
        cell.CellFormula.Should().BeNull();
    }

    [Fact]
    public void Control_characters_do_not_break_the_file()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report("a\u0001b\ud800"));

        new OpenXmlValidator().Validate(workbook).Should().BeEmpty();
        Row(workbook, "Tickets", "T-11").Elements<SheetCell>().ElementAt(3).InnerText.Should().Be("ab\ufffd");
    }

    [Fact]
    public void The_header_stays_in_sight_and_filters()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report());
        Worksheet sheet = SheetOf(workbook, "Tickets").Worksheet!;

        sheet.Descendants<Pane>().Single().VerticalSplit!.Value.Should().Be(6);
        sheet.Elements<AutoFilter>().Single().Reference!.Value.Should().Be("A6:I10");
        sheet.Descendants<Row>().Single(row => row.RowIndex! == 6).InnerText.Should().StartWith("TicketStationRule");
    }

    [Fact]
    public void Every_sheet_says_whose_it_is_and_that_the_data_are_invented()
    {
        using SpreadsheetDocument workbook = Open(SampleSeason.Report());

        foreach (WorksheetPart sheet in workbook.WorkbookPart!.WorksheetParts)
        {
            sheet.Worksheet!.InnerText.Should().Contain("Invented data").And.Contain("Juniper Basin Watershed District & friends");
            sheet.Worksheet.Descendants<OddFooter>().Single().Text.Should().Contain("District && friends · Invented data");
        }
    }

    private static SpreadsheetDocument Open(SeasonReport report) => SpreadsheetDocument.Open(
        new MemoryStream(SeasonWorkbook.Write(report, UnitSystem.UsCustomary, SampleSeason.Frame)), isEditable: false);

    private static WorksheetPart SheetOf(SpreadsheetDocument workbook, string name) => (WorksheetPart)workbook.WorkbookPart!.GetPartById(
        workbook.WorkbookPart.Workbook!.Descendants<Sheet>().Single(sheet => sheet.Name == name).Id!);

    private static Row Row(SpreadsheetDocument workbook, string sheet, string first) => SheetOf(workbook, sheet).Worksheet!
        .Descendants<Row>().First(row => row.Elements<SheetCell>().FirstOrDefault()?.InnerText == first);

    private static double Number(SpreadsheetDocument workbook, string sheet, string first, int column)
    {
        SheetCell cell = Row(workbook, sheet, first).Elements<SheetCell>().ElementAt(column);
        cell.DataType.Should().BeNull("a number carries no type of its own");
        return double.Parse(cell.CellValue!.Text, System.Globalization.CultureInfo.InvariantCulture);
    }
}
