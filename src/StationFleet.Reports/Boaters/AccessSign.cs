using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Drawing.Layout;
using PdfSharp.Pdf;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Reports.Pdf;

namespace StationFleet.Reports.Boaters;

/// <summary>What stands on the sign of one access.</summary>
/// <param name="Access">The access's name.</param>
/// <param name="Water">The water it leads to.</param>
/// <param name="Address">The address of its public page, in the QR code and in letters.</param>
/// <param name="Organization">Who runs the stations.</param>
/// <param name="Tools">The kinds of tools that hang there, each with the names it goes by; at most six.</param>
/// <param name="IsInvented">Whether the data are the demo's.</param>
public sealed record SignText(
    string Access, string Water, string Address, string Organization, IReadOnlyList<(ToolKind Kind, string Name)> Tools, bool IsInvented);

/// <summary>The sign at an access, as PDF of one page: what to do in plain steps, what to beware of, and the QR code of its page.</summary>
public static class AccessSign
{
    private const double Margin = 40;
    private const double Gap = 14;
    private const double QrSize = 150;

    /// <param name="sign">What stands on it.</param>
    /// <param name="isA4">On A4 rather than Letter paper.</param>
    public static byte[] Write(SignText sign, bool isA4)
    {
        ArgumentNullException.ThrowIfNull(sign);
        PdfFonts.Use();
        using PdfDocument document = new();
        document.Info.Title = $"{sign.Access}: {PublicSentences.Heading}";
        document.Info.Author = sign.Organization;
        document.Language = "en";
        PdfPage page = document.AddPage();
        page.Size = isA4 ? PageSize.A4 : PageSize.Letter;
        using (XGraphics paper = XGraphics.FromPdfPage(page))
        {
            new Sheet(paper, sign).Draw();
        }

        using MemoryStream bytes = new();
        document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    private sealed class Sheet(XGraphics paper, SignText sign)
    {
        private readonly double _width = paper.PageSize.Width - (2 * Margin);
        private readonly double _bottom = paper.PageSize.Height - Margin;

        public void Draw()
        {
            double y = Head();
            double foot = _bottom - QrSize - 22;
            double cautions = foot - Gap - CautionsHeight;
            Steps(new XRect(Margin, y, _width, cautions - Gap - y));
            Cautions(new XRect(Margin, cautions, _width, CautionsHeight));
            Foot(foot);
        }

        private static double CautionsHeight => 44 + ((PublicSentences.Cautions.Count - 1) * 15) + 8;

        private double Head()
        {
            XRect band = new(0, 0, paper.PageSize.Width, 92);
            paper.DrawRectangle(new XSolidBrush(PdfPalette.Pine), band);
            Line(PublicSentences.Heading, 40, XBrushes.White, Margin, 50, _width, isBold: true);
            Line($"{sign.Access}, {sign.Water}", 17, XBrushes.White, Margin, 76, _width);
            double y = band.Height + 10;
            if (sign.IsInvented)
            {
                Line("Invented data", 11, new XSolidBrush(PdfPalette.Visit), Margin, y + 9, _width, isBold: true);
                y += 14;
            }

            Words(PublicSentences.Limits, 12.5, PdfPalette.Ink, new XRect(Margin, y, _width, 36));
            return y + 46;
        }

        // Two tools to a row; each with its drawing at the left.
        private void Steps(XRect all)
        {
            int rows = (sign.Tools.Count + 1) / 2;
            double height = Math.Min(130, all.Height / Math.Max(rows, 1));
            double width = (all.Width - Gap) / 2;
            foreach ((int n, (ToolKind kind, string name)) in sign.Tools.Index())
            {
                XRect cell = new(all.X + ((n % 2) * (width + Gap)), all.Y + ((n / 2) * height), width, height);
                paper.DrawLine(new XPen(PdfPalette.Rule, 1), cell.X, cell.Y, cell.Right, cell.Y);
                PdfToolDrawing.Draw(paper, kind, new XRect(cell.X, cell.Y + 10, 84, 63));
                Line(name, 13, new XSolidBrush(PdfPalette.Ink), cell.X + 96, cell.Y + 20, width - 96, isBold: true);
                Words(string.Join('\n', ToolSteps.For(kind).Select((step, at) => $"{at + 1}. {step}")), 10, PdfPalette.Ink, new XRect(cell.X + 96, cell.Y + 27, width - 96, height - 29));
            }
        }

        private void Cautions(XRect box)
        {
            paper.DrawRectangle(new XPen(PdfPalette.Visit, 2.5), box);
            Line(PublicSentences.NeverVacuum, 14.5, new XSolidBrush(PdfPalette.Visit), box.X + 12, box.Y + 22, box.Width - 24, isBold: true);
            foreach ((int n, string caution) in PublicSentences.Cautions.Index())
            {
                Line($"• {caution}", 11, new XSolidBrush(PdfPalette.Ink), box.X + 12, box.Y + 41 + (n * 15), box.Width - 24);
            }
        }

        private void Foot(double y)
        {
            PdfQr.Draw(paper, sign.Address, new XRect(paper.PageSize.Width - Margin - QrSize, y, QrSize, QrSize));
            double width = _width - QrSize - Gap;
            Line("Something broken or missing?", 20, new XSolidBrush(PdfPalette.Pine), Margin, y + 34, width, isBold: true);
            Words("Point your phone at the square to see how each tool works, whether the station is in service, and to tell us what is wrong. No account, no name.", 12.5, PdfPalette.Ink, new XRect(Margin, y + 46, width, 70));
            Line(sign.Address, 12, new XSolidBrush(PdfPalette.Ink), Margin, y + 132, width, isBold: true);
            Line(sign.Organization, 11, new XSolidBrush(PdfPalette.Ink2), Margin, _bottom, _width);
        }

        private void Line(string text, double size, XBrush brush, double x, double baseline, double width, bool isBold = false)
        {
            XFont font = PdfFlow.Font(size, isBold);
            double wide = paper.MeasureString(text, font).Width;
            paper.DrawString(text, wide <= width ? font : PdfFlow.Font(size * width / wide, isBold), brush, x, baseline);
        }

        private void Words(string text, double size, XColor colour, XRect place) =>
            new XTextFormatter(paper).DrawString(text, PdfFlow.Font(size), new XSolidBrush(colour), place, XStringFormats.TopLeft);
    }
}
