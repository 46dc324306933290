using PdfSharp.Drawing;
using PdfSharp.Pdf;
using StationFleet.Reports.Pdf;

namespace StationFleet.Reports.Sampling;

/// <summary>What stands on the label of one jar.</summary>
/// <param name="Code">The sample's code, in large letters.</param>
/// <param name="Address">The address of its page, in the QR code.</param>
/// <param name="Lines">What else to read: place, time, volume, preservative; at most five lines.</param>
/// <param name="IsFlammable">It holds ethanol.</param>
public sealed record SampleLabel(string Code, string Address, IReadOnlyList<string> Lines, bool IsFlammable);

/// <summary>Labels for jars as PDF, one to a page of label size: a person reads the code, a phone the QR code.</summary>
public static class SampleLabels
{
    // 62 mm × 40 mm, a usual size of thermal labels; a sheet printer takes several to a page.
    private const double WidthMm = 62;
    private const double HeightMm = 40;
    private const double MarginMm = 2;

    // With the four quiet modules that the QR standard wants around it.
    private const double QrMm = 26;

    public static byte[] Write(IReadOnlyList<SampleLabel> labels, bool isInvented)
    {
        ArgumentNullException.ThrowIfNull(labels);
        ArgumentOutOfRangeException.ThrowIfZero(labels.Count, nameof(labels));
        PdfFonts.Use();
        using PdfDocument document = new();
        document.Info.Title = labels.Count == 1 ? labels[0].Code : "Sample labels";
        foreach (SampleLabel label in labels)
        {
            PdfPage page = document.AddPage();
            (page.Width, page.Height) = (XUnit.FromMillimeter(WidthMm), XUnit.FromMillimeter(HeightMm));
            using XGraphics paper = XGraphics.FromPdfPage(page);
            Draw(paper, label, isInvented);
        }

        using MemoryStream bytes = new();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    private static void Draw(XGraphics paper, SampleLabel label, bool isInvented)
    {
        PdfQr.Draw(paper, label.Address, new XRect(Point(WidthMm - QrMm - 0.5), Point(HeightMm - QrMm - 0.5), Point(QrMm), Point(QrMm)));
        double widthMm = WidthMm - (2 * MarginMm);
        XFont large = Fitting(paper, label.Code, widthMm, 15);
        paper.DrawString(label.Code, large, XBrushes.Black, Point(MarginMm), Point(MarginMm) + large.GetHeight() * 0.8);
        XFont small = new(PdfFonts.Family, 6.5);
        double top = 14.5;
        IEnumerable<string> lines = label.Lines.Take(5);
        if (isInvented)
        {
            lines = lines.Prepend("Invented data");
        }

        foreach (string line in lines)
        {
            XFont fitting = Fitting(paper, line, WidthMm - QrMm - MarginMm, 6.5, XFontStyleEx.Regular);
            paper.DrawString(line, fitting, XBrushes.Black, Point(MarginMm), Point(top));
            top += 3.3;
        }

        if (label.IsFlammable)
        {
            XFont bold = new(PdfFonts.Family, 7, XFontStyleEx.Bold);
            paper.DrawString("Ethanol: flammable", bold, XBrushes.Black, Point(MarginMm), Point(HeightMm - MarginMm));
        }
        else
        {
            paper.DrawString("Keep for the count", small, XBrushes.Black, Point(MarginMm), Point(HeightMm - MarginMm));
        }
    }

    private static XFont Fitting(XGraphics paper, string text, double widthMm, double size, XFontStyleEx style = XFontStyleEx.Bold)
    {
        XFont font = new(PdfFonts.Family, size, style);
        double width = paper.MeasureString(text, font).Width;
        return width <= Point(widthMm) ? font : new XFont(PdfFonts.Family, size * Point(widthMm) / width, style);
    }

    private static double Point(double mm) => XUnit.FromMillimeter(mm).Point;
}
