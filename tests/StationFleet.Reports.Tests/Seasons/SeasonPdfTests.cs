using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Seasons;
using UglyToad.PdfPig;

namespace StationFleet.Reports.Tests.Seasons;

/// <summary>Read with PdfPig, a PDF library of other people.</summary>
public sealed class SeasonPdfTests
{
    private static readonly SeasonReport Report = SampleSeason.Report();
    private static readonly SeasonSummary Summary = Report.Summary;
    private static readonly byte[] File = SeasonPdf.Write(Report, UnitSystem.UsCustomary, SampleSeason.Frame);

    [Fact]
    public void Every_figure_of_every_station_can_be_found_in_its_text()
    {
        string text = Text(File);

        foreach (FigureValue figure in Summary.Stations.SelectMany(station => station.Figures.Listed).Concat(Summary.Fleet.Listed))
        {
            text.Should().Contain(Squeezed(figure.Definition.Name)).And.Contain(Squeezed(SeasonWords.Value(figure, UnitSystem.UsCustomary)));
            text.Should().Contain(Squeezed(figure.Definition.Definition));
        }

        text.Should().Contain("JuniperBasinWatershedDistrict&friends").And.Contain("Inventeddata").And.Contain(Squeezed(SeasonNarrative.Cautions[0]));
    }

    [Fact]
    public void It_has_a_cover_a_title_numbered_pages_and_brings_its_fonts()
    {
        using PdfDocument pdf = PdfDocument.Open(File);

        pdf.Information.Title.Should().Be(SampleSeason.Frame.Title);
        pdf.NumberOfPages.Should().BeInRange(5, 11);
        pdf.GetPages().Should().OnlyContain(page => Squeezed(page.Text).Contains($"Page{page.Number}of{pdf.NumberOfPages}"));
        pdf.GetPages().SelectMany(page => page.Letters).Should().OnlyContain(letter => letter.FontName!.Contains("DejaVu"), "the reader's machine need not have the font");
        pdf.GetPage(1).Width.Should().Be(612, "Letter, in the land of gallons");
    }

    [Fact]
    public void A_hundred_stations_fit_and_each_page_holds_what_it_shows()
    {
        SeasonSummary many = Summary with { Stations = [.. Enumerable.Range(1, 100).Select(number => Summary.Stations[0] with { Code = $"ST-{number}" })] };
        List<double> progress = [];

        byte[] file = SeasonPdf.Write(Report with { Summary = many }, UnitSystem.Metric, SampleSeason.Frame, progress.Add);

        using PdfDocument pdf = PdfDocument.Open(file);
        Text(file).Should().Contain("ST-100");
        progress.Should().BeInAscendingOrder().And.EndWith(1);
        pdf.GetPages().SelectMany(page => page.Letters.Select(letter => letter.BoundingBox.Right / page.Width))
            .Should().OnlyContain(share => share < 1, "nothing runs over the edge");
    }

    [Fact]
    public void The_narrative_says_the_same_numbers()
    {
        string text = SeasonNarrative.Write(Report, UnitSystem.UsCustomary, "Juniper Basin Watershed District", isInvented: true);

        text.Should().StartWith("Invented data.").And.Contain(SeasonWords.Headline(Summary, UnitSystem.UsCustomary));
        text.Should().Contain("The tanks were emptied 2 times and gave 96 gal of waste water");
        text.Should().Contain("COP-1 (Dam Road access, Copperline Reservoir): ");
    }

    [Fact]
    public void The_year_before_what_samples_say_and_the_data_behind_it_stand_in_document_and_text()
    {
        string document = Text(File);
        string text = SeasonNarrative.Write(Report, UnitSystem.UsCustomary, "Juniper Basin Watershed District", isInvented: true);
        SeasonRemoval veligers = Report.Removals.Single(removal => removal.Name == "Quagga mussel, veliger");

        string sentence = SeasonTotalWords.Sentence(veligers.Total, UnitSystem.UsCustomary);
        document.Should().Contain(Squeezed(sentence)).And.Contain("Whenitismost:Quaggamussel,veliger").And.NotContain("Secretsnail");
        document.Should().Contain("Besidetheyearbefore").And.Contain("morethannoise").And.Contain("Jointlyfunded");
        document.Should().Contain(Squeezed(Report.Quality[0].Sentences[^1]));
        text.Should().Contain(sentence).And.Contain("more than noise").And.Contain("Jointly funded").And.Contain(Report.Quality[0].Sentences[^1]).And.NotContain("Secret snail");
    }

    private static string Text(byte[] file)
    {
        using PdfDocument pdf = PdfDocument.Open(file);
        return Squeezed(string.Concat(pdf.GetPages().Select(page => page.Text)));
    }

    // Lines break where they must; what is looked for is the words.
    private static string Squeezed(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter)));
}
