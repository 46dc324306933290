using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace StationFleet.Reports.Pdf;

/// <summary>One column of a printed table.</summary>
/// <param name="Title">Its head.</param>
/// <param name="Width">Its share of the page's width; any unit.</param>
/// <param name="IsNumber">Numbers stand to the right.</param>
internal sealed record PdfColumn(string Title, double Width, bool IsNumber = false);

/// <summary>Fills pages from top to bottom: words wrap, tables break between rows and repeat their heads, each page is numbered.</summary>
internal sealed class PdfFlow : IDisposable
{
    private const double Margin = 54;
    private const double FooterHeight = 30;

    private readonly PdfDocument _document = new();
    private readonly PageSize _size;
    private readonly string _footer;
    private XGraphics _page = null!;

    public PdfFlow(PageSize size, string title, string author, DateTimeOffset made, string footer)
    {
        PdfFonts.Use();
        (_size, _footer) = (size, footer);
        (_document.Info.Title, _document.Info.Author, _document.Info.CreationDate) = (title, author, made.UtcDateTime);
        _document.Language = "en";
        NewPage();
    }

    /// <summary>Where the next thing stands, from the page's top [pt].</summary>
    public double Y { get; private set; }

    public double Width => _page.PageSize.Width - (2 * Margin);

    public double Height => _page.PageSize.Height;

    public XGraphics Page => _page;

    public static XFont Font(double size, bool isBold = false) => new(PdfFonts.Family, size, isBold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    public void NewPage()
    {
        _page?.Dispose();
        PdfPage page = _document.AddPage();
        page.Size = _size;
        _page = XGraphics.FromPdfPage(page);
        Y = Margin;
    }

    public void Space(double points) => Y += points;

    /// <summary>Begins a new page when so much does not fit any more.</summary>
    public void Need(double points)
    {
        if (Y + points > Height - Margin - FooterHeight)
        {
            NewPage();
        }
    }

    public void Heading(string text)
    {
        Need(90);
        Space(Y > Margin ? 18 : 0);
        Paragraph(text, 15, PdfPalette.Pine, isBold: true);
        Space(4);
    }

    public void Paragraph(string text, double size = 9.5, XColor? colour = null, bool isBold = false, double indent = 0)
    {
        XFont font = Font(size, isBold);
        XSolidBrush brush = new(colour ?? PdfPalette.Ink);
        double line = size * 1.42;
        foreach (string words in Wrap(text, font, Width - indent))
        {
            Need(line);
            _page.DrawString(words, font, brush, new XPoint(Margin + indent, Y + size));
            Y += line;
        }
    }

    /// <summary>A list entry: its name in bold, its words beneath.</summary>
    public void Entry(string name, string words, string small)
    {
        Need(44);
        Paragraph(name, 9.5, isBold: true);
        Paragraph(words, 9);
        if (small.Length > 0)
        {
            Paragraph(small, 7.5, PdfPalette.Ink2);
        }

        Space(5);
    }

    public void Table(IReadOnlyList<PdfColumn> columns, IEnumerable<IReadOnlyList<string>> rows, double size = 8.5)
    {
        double unit = Width / columns.Sum(column => column.Width);
        XFont head = Font(size, isBold: true);
        XFont font = Font(size);
        Need(60);
        Head();
        foreach (IReadOnlyList<string> row in rows)
        {
            IReadOnlyList<string>[] lines = [.. row.Select((cell, column) => Wrap(cell, font, (columns[column].Width * unit) - 8))];
            double height = (lines.Max(cell => cell.Count) * size * 1.3) + 6;
            if (Y + height > Height - Margin - FooterHeight)
            {
                NewPage();
                Head();
            }

            Draw(lines, font, new XSolidBrush(PdfPalette.Ink), height);
            _page.DrawLine(new XPen(PdfPalette.Rule, 0.5), Margin, Y, Margin + Width, Y);
        }

        void Head()
        {
            IReadOnlyList<string>[] heads = [.. columns.Select(column => Wrap(column.Title, head, (column.Width * unit) - 8))];
            double height = (heads.Max(cell => cell.Count) * size * 1.3) + 8;
            _page.DrawRectangle(new XSolidBrush(PdfPalette.Pine), Margin, Y, Width, height);
            Draw(heads, head, XBrushes.White, height);
        }

        void Draw(IReadOnlyList<string>[] cells, XFont with, XBrush brush, double height)
        {
            double x = Margin;
            foreach ((int column, IReadOnlyList<string> lines) in cells.Index())
            {
                double width = columns[column].Width * unit;
                foreach ((int line, string words) in lines.Index())
                {
                    double at = columns[column].IsNumber ? x + width - 4 - _page.MeasureString(words, with).Width : x + 4;
                    _page.DrawString(words, with, brush, new XPoint(at, Y + 3 + size + (line * size * 1.3)));
                }

                x += width;
            }

            Y += height;
        }
    }

    /// <summary>A picture as wide as the page.</summary>
    public void Picture(double height, Action<XGraphics, XRect> draw)
    {
        Need(height);
        draw(_page, new XRect(Margin, Y, Width, height));
        Y += height + 6;
    }

    /// <summary>Numbers the pages and gives the file.</summary>
    public byte[] Finish()
    {
        _page.Dispose();
        XFont font = Font(7.5);
        XSolidBrush brush = new(PdfPalette.Ink2);
        foreach ((int number, PdfPage page) in _document.Pages.Cast<PdfPage>().Index())
        {
            using XGraphics foot = XGraphics.FromPdfPage(page, XGraphicsPdfPageOptions.Append);
            double y = foot.PageSize.Height - 32;
            foot.DrawString(_footer, font, brush, new XPoint(Margin, y));
            foot.DrawString(
                $"Page {number + 1} of {_document.PageCount}", font, brush, new XRect(Margin, y - 9, foot.PageSize.Width - (2 * Margin), 10), XStringFormats.BottomRight);
        }

        using MemoryStream file = new();
        _document.Save(file);
        return file.ToArray();
    }

    public void Dispose()
    {
        _page.Dispose();
        _document.Dispose();
    }

    private List<string> Wrap(string text, XFont font, double width)
    {
        List<string> lines = [];
        foreach (string paragraph in text.Split('\n'))
        {
            string line = "";
            foreach (string word in paragraph.Split(' '))
            {
                string longer = line.Length == 0 ? word : $"{line} {word}";
                if (line.Length > 0 && _page.MeasureString(longer, font).Width > width)
                {
                    lines.Add(line);
                    line = word;
                }
                else
                {
                    line = longer;
                }
            }

            lines.Add(line);
        }

        return lines;
    }
}

/// <summary>The colours of the pages' light theme, in print.</summary>
internal static class PdfPalette
{
    public static XColor Ink { get; } = XColor.FromArgb(0x1d, 0x2a, 0x26);

    public static XColor Ink2 { get; } = XColor.FromArgb(0x3f, 0x4b, 0x46);

    public static XColor Rule { get; } = XColor.FromArgb(0xd9, 0xd5, 0xc8);

    public static XColor Sand { get; } = XColor.FromArgb(0xeb, 0xe8, 0xde);

    public static XColor Pine { get; } = XColor.FromArgb(0x1f, 0x4d, 0x3f);

    public static XColor PineWash { get; } = XColor.FromArgb(0xe3, 0xec, 0xe6);

    public static XColor Lake { get; } = XColor.FromArgb(0x2b, 0x60, 0x79);

    public static XColor Working { get; } = XColor.FromArgb(0x2f, 0x6b, 0x4f);

    public static XColor Watch { get; } = XColor.FromArgb(0x6b, 0x45, 0x00);

    public static XColor Visit { get; } = XColor.FromArgb(0xa8, 0x36, 0x1b);

    public static XColor Silent { get; } = XColor.FromArgb(0x5d, 0x4a, 0x7e);

    public static XColor Closed { get; } = XColor.FromArgb(0xb9, 0x97, 0x7f);
}
