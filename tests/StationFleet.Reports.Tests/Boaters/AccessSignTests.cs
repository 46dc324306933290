using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Reports.Boaters;
using UglyToad.PdfPig;

namespace StationFleet.Reports.Tests.Boaters;

/// <summary>Read with PdfPig, a PDF library of other people.</summary>
public sealed class AccessSignTests
{
    private const string Address = "https://fleet.juniper-basin.example/a/dam-road";

    private static readonly SignText Sign = new(
        "Dam Road access", "Copperline Reservoir", Address, "Juniper Basin Watershed District",
        [
            (ToolKind.Vacuum, "Vacuum left, Vacuum right"), (ToolKind.Grabber, "Plant grabber"), (ToolKind.Wrench, "Drain-plug wrench"),
            (ToolKind.Brush, "Hull brush"), (ToolKind.Blower, "Air blower"), (ToolKind.Other, "Hand pump"),
        ],
        IsInvented: false);

    [Theory]
    [InlineData(false, 612, 792)]
    [InlineData(true, 595, 842)]
    public void It_is_one_page_of_its_paper_and_nothing_reaches_over_the_edge(bool isA4, double width, double height)
    {
        using PdfDocument pdf = PdfDocument.Open(AccessSign.Write(Sign, isA4));

        pdf.NumberOfPages.Should().Be(1);
        pdf.GetPage(1).Width.Should().BeApproximately(width, 1);
        pdf.GetPage(1).Height.Should().BeApproximately(height, 1);
        pdf.GetPage(1).Letters.Should().OnlyContain(letter => letter.BoundingBox.Left > 30 && letter.BoundingBox.Right < width - 30
            && letter.BoundingBox.Bottom > 30 && letter.BoundingBox.Top < height - 10);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    [Source("ISO/IEC 18004 as read by ZXing.Net, an independent library; the page drawn by poppler")]
    public void A_phone_reads_the_address_of_the_page_off_it(bool isA4) =>
        PrintedQr.Read(AccessSign.Write(Sign, isA4)).Should().Be(Address);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_person_reads_place_steps_and_cautions_off_it(bool isA4)
    {
        using PdfDocument pdf = PdfDocument.Open(AccessSign.Write(Sign, isA4));
        string text = Squeezed(pdf.GetPage(1).Text);

        text.Should().Contain(Squeezed("Clean, drain, dry.")).And.Contain(Squeezed("Dam Road access, Copperline Reservoir")).And.Contain(Squeezed(Address))
            .And.Contain(Squeezed("This station helps remove water, plants and mud. It does not decontaminate or certify your boat; "
                + "required inspections, seals and drying times still apply."))
            .And.Contain(Squeezed("Never vacuum gasoline, oil or water with a sheen: fire risk."));
        foreach ((ToolKind kind, string name) in Sign.Tools)
        {
            text.Should().Contain(Squeezed(name));
            ToolSteps.For(kind).Should().OnlyContain(step => text.Contains(Squeezed(step)));
        }

        PublicSentences.Cautions.Should().OnlyContain(caution => text.Contains(Squeezed(caution)));
    }

    [Fact]
    public void The_steps_of_one_tool_do_not_run_into_the_next()
    {
        using PdfDocument pdf = PdfDocument.Open(AccessSign.Write(Sign, isA4: false));

        // Two letters on one spot would be words over words.
        pdf.GetPage(1).Letters.Where(letter => letter.Value.Trim().Length > 0)
            .GroupBy(letter => ((int)(letter.StartBaseLine.X / 2), (int)(letter.StartBaseLine.Y / 3)))
            .Where(spot => spot.Count() > 2).Should().BeEmpty();
    }

    [Fact]
    public void The_demo_says_that_its_data_are_invented()
    {
        using PdfDocument pdf = PdfDocument.Open(AccessSign.Write(Sign with { IsInvented = true }, isA4: false));

        Squeezed(pdf.GetPage(1).Text).Should().Contain("Inventeddata");
    }

    private static string Squeezed(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter)));
}
