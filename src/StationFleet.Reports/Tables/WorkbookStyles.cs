using DocumentFormat.OpenXml.Spreadsheet;

namespace StationFleet.Reports.Tables;

/// <summary>The few cell styles of our workbooks; the numbers are their places in the style sheet.</summary>
internal enum CellStyle : uint
{
    Plain,
    Title,
    Lead,
    Note,
    HeaderLeft,
    HeaderRight,
    Text,
    Count,
    OneDecimal,
    Share,
    Date,
    Instant,
    TwoDecimals,
    ThreeDecimals,
}

internal static class WorkbookStyles
{
    private const string Pine = "FF1F4D3F";
    private const string Rule = "FFD9D5C8";
    private const string Ink2 = "FF3F4B46";
    private const string Visit = "FFA8361B";

    // Numbers below 164 belong to the file format.
    private const uint ShareFormat = 164;
    private const uint DateFormat = 165;
    private const uint InstantFormat = 166;
    private const uint OneDecimalFormat = 167;
    private const uint ThreeDecimalsFormat = 168;
    private const uint CountFormat = 3;
    private const uint TwoDecimalsFormat = 4;

    public static Stylesheet Sheet() => new(
        new NumberingFormats(
            new NumberingFormat { NumberFormatId = ShareFormat, FormatCode = "0.0%" },
            new NumberingFormat { NumberFormatId = DateFormat, FormatCode = "yyyy\\-mm\\-dd" },
            new NumberingFormat { NumberFormatId = InstantFormat, FormatCode = "yyyy\\-mm\\-dd\\ hh:mm" },
            new NumberingFormat { NumberFormatId = OneDecimalFormat, FormatCode = "#,##0.0" },
            new NumberingFormat { NumberFormatId = ThreeDecimalsFormat, FormatCode = "#,##0.000" }),
        new Fonts(
            Font(11, null, bold: false), Font(16, Pine, bold: true), Font(11, Ink2, bold: false),
            Font(11, Visit, bold: true), Font(11, "FFFFFFFF", bold: true)),
        new Fills(
            new Fill(new PatternFill { PatternType = PatternValues.None }),
            new Fill(new PatternFill { PatternType = PatternValues.Gray125 }),
            new Fill(new PatternFill(new ForegroundColor { Rgb = Pine }) { PatternType = PatternValues.Solid })),
        new Borders(
            Border(null), Border(new BottomBorder(new Color { Rgb = Rule }) { Style = BorderStyleValues.Thin })),
        new CellStyleFormats(new CellFormat()),
        new CellFormats(
            Format(font: 0),
            Format(font: 1),
            Format(font: 2),
            Format(font: 3),
            Format(font: 4, fill: 2, alignment: Align(HorizontalAlignmentValues.Left, wrap: true)),
            Format(font: 4, fill: 2, alignment: Align(HorizontalAlignmentValues.Right, wrap: true)),
            Format(font: 0, border: 1, alignment: Align(HorizontalAlignmentValues.Left, wrap: true)),
            Format(font: 0, border: 1, number: CountFormat, alignment: Align(HorizontalAlignmentValues.Right)),
            Format(font: 0, border: 1, number: OneDecimalFormat, alignment: Align(HorizontalAlignmentValues.Right)),
            Format(font: 0, border: 1, number: ShareFormat, alignment: Align(HorizontalAlignmentValues.Right)),
            Format(font: 0, border: 1, number: DateFormat, alignment: Align(HorizontalAlignmentValues.Left)),
            Format(font: 0, border: 1, number: InstantFormat, alignment: Align(HorizontalAlignmentValues.Left)),
            Format(font: 0, border: 1, number: TwoDecimalsFormat, alignment: Align(HorizontalAlignmentValues.Right)),
            Format(font: 0, border: 1, number: ThreeDecimalsFormat, alignment: Align(HorizontalAlignmentValues.Right))));

    private static Font Font(double size, string? colour, bool bold)
    {
        Font font = new();
        if (bold)
        {
            font.Append(new Bold());
        }

        font.Append(new FontSize { Val = size });
        if (colour is not null)
        {
            font.Append(new Color { Rgb = colour });
        }

        font.Append(new FontName { Val = "Calibri" });
        return font;
    }

    private static Border Border(BottomBorder? bottom) =>
        new(new LeftBorder(), new RightBorder(), new TopBorder(), bottom ?? new BottomBorder(), new DiagonalBorder());

    private static Alignment Align(HorizontalAlignmentValues side, bool wrap = false) =>
        new() { Horizontal = side, Vertical = VerticalAlignmentValues.Center, WrapText = wrap ? true : null, Indent = side == HorizontalAlignmentValues.Left ? 1u : null };

    private static CellFormat Format(uint font, uint fill = 0, uint border = 0, uint number = 0, Alignment? alignment = null)
    {
        CellFormat format = new()
        {
            FontId = font,
            FillId = fill,
            BorderId = border,
            NumberFormatId = number,
            FormatId = 0,
            ApplyFont = true,
            ApplyFill = fill > 0 ? true : null,
            ApplyBorder = border > 0 ? true : null,
            ApplyNumberFormat = number > 0 ? true : null,
        };
        if (alignment is not null)
        {
            format.ApplyAlignment = true;
            format.Append(alignment);
        }

        return format;
    }
}
