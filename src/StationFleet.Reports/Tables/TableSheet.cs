using System.Globalization;
using System.Xml;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace StationFleet.Reports.Tables;

/// <summary>One sheet: title, whose it is, the lead, and below them the table.</summary>
internal sealed class TableSheet(ReportFrame frame, ReportTable table, IReadOnlyList<string> lead)
{
    private const int NarrowestColumn = 11;
    private const int WidestColumn = 58;
    private const int LongestNote = 95;
    private const double LineHeight = 15;
    private const double Air = 4;

    // Bold and wide letters take more than the mean letter that widths are counted in.
    private const double WideLetters = 1.08;
    private const int LongestText = 32_767;

    private readonly double[] _widths = [.. table.Columns.Select((_, column) => WidthOf(table, column))];

    private readonly List<(string Text, CellStyle Style)> _head =
    [
        ($"{table.Title}: {frame.Title}", CellStyle.Title),
        (frame.Agency, CellStyle.Lead),
        .. frame.IsInvented ? [(ReportFrame.InventedNote, CellStyle.Note)] : Array.Empty<(string, CellStyle)>(),
        .. lead.Select(sentence => (sentence, CellStyle.Lead)),
        .. Lines(table.Note).Select(line => (line, CellStyle.Lead)),
    ];

    /// <summary>The table's header, counted from 1; one row is left empty above it.</summary>
    public int HeaderRow => _head.Count + 2;

    public void WriteTo(WorksheetPart part)
    {
        using OpenXmlWriter writer = OpenXmlWriter.Create(part);
        writer.WriteStartElement(new Worksheet());
        writer.WriteElement(new SheetProperties(new PageSetupProperties { FitToPage = true }));
        writer.WriteElement(new SheetViews(new SheetView(
            new Pane
            {
                VerticalSplit = HeaderRow,
                TopLeftCell = Reference(HeaderRow + 1, 0),
                ActivePane = PaneValues.BottomLeft,
                State = PaneStateValues.Frozen,
            })
        {
            WorkbookViewId = 0,
            ShowGridLines = false,
        }));
        writer.WriteElement(new Columns(table.Columns.Select((_, column) => new Column
        {
            Min = (uint)column + 1,
            Max = (uint)column + 1,
            Width = _widths[column],
            CustomWidth = true,
        })));
        WriteRows(writer);
        if (table.Rows.Count > 0)
        {
            writer.WriteElement(new AutoFilter
            {
                Reference = $"{Reference(HeaderRow, 0)}:{Reference(HeaderRow + table.Rows.Count, table.Columns.Count - 1)}",
            });
        }

        writer.WriteElement(new PageMargins { Left = 0.5, Right = 0.5, Top = 0.6, Bottom = 0.7, Header = 0.3, Footer = 0.3 });
        writer.WriteElement(new PageSetup { Orientation = OrientationValues.Landscape, FitToWidth = 1, FitToHeight = 0 });
        string note = frame.IsInvented ? $" · {ReportFrame.InventedNote}" : "";
        writer.WriteElement(new HeaderFooter(new OddFooter($"&L{Plain(frame.Agency)}{note}&RPage &P of &N")));
        writer.WriteEndElement();
    }

    private void WriteRows(OpenXmlWriter writer)
    {
        writer.WriteStartElement(new SheetData());
        foreach ((int row, (string text, CellStyle style)) in _head.Index())
        {
            WriteRow(writer, row + 1, [(Cell.Of(text), style)], style == CellStyle.Title ? 26 : LineHeight + Air);
        }

        Cell[] header = [.. table.Columns.Select(column => Cell.Of(column.Title))];
        WriteRow(writer, HeaderRow, header.Zip(table.Columns.Select(column => HeaderStyle(column.Kind))), Height(header));
        foreach ((int row, IReadOnlyList<Cell> cells) in table.Rows.Index())
        {
            WriteRow(writer, HeaderRow + 1 + row, cells.Select(cell => (cell, StyleOf(cell))), Height(cells));
        }

        writer.WriteEndElement();
    }

    private static void WriteRow(OpenXmlWriter writer, int row, IEnumerable<(Cell Cell, CellStyle Style)> cells, double height)
    {
        writer.WriteStartElement(new Row { RowIndex = (uint)row, Height = height, CustomHeight = true });
        foreach ((int column, (Cell cell, CellStyle style)) in cells.Index())
        {
            writer.WriteElement(Element(cell, style, Reference(row, column)));
        }

        writer.WriteEndElement();
    }

    private static DocumentFormat.OpenXml.Spreadsheet.Cell Element(Cell cell, CellStyle style, string reference)
    {
        DocumentFormat.OpenXml.Spreadsheet.Cell element = new() { CellReference = reference, StyleIndex = (uint)style };
        switch (cell)
        {
            case Cell.Text text:
                element.DataType = CellValues.InlineString;
                element.Append(new InlineString(new Text(Clean(text.Value)) { Space = SpaceProcessingModeValues.Preserve }));
                break;
            case Cell.Number number:
                element.CellValue = new CellValue(number.Value);
                break;
            case Cell.Day day:
                element.CellValue = new CellValue(day.Value.ToDateTime(TimeOnly.MinValue).ToOADate());
                break;
            case Cell.Instant instant:
                element.CellValue = new CellValue(instant.Local.ToOADate());
                break;
        }

        return element;
    }

    private static CellStyle HeaderStyle(ColumnKind kind) =>
        kind is ColumnKind.Count or ColumnKind.Number or ColumnKind.Figure ? CellStyle.HeaderRight : CellStyle.HeaderLeft;

    private static CellStyle StyleOf(Cell cell) => cell switch
    {
        Cell.Number { Format: NumberFormat.Count } => CellStyle.Count,
        Cell.Number { Format: NumberFormat.OneDecimal } => CellStyle.OneDecimal,
        Cell.Number { Format: NumberFormat.TwoDecimals } => CellStyle.TwoDecimals,
        Cell.Number { Format: NumberFormat.ThreeDecimals } => CellStyle.ThreeDecimals,
        Cell.Number { Format: NumberFormat.Share } => CellStyle.Share,
        Cell.Day => CellStyle.Date,
        Cell.Instant => CellStyle.Instant,
        _ => CellStyle.Text,
    };

    // Not every program finds the height of wrapped words by itself, so the lines are counted here.
    private double Height(IReadOnlyList<Cell> cells) =>
        (cells.Select((cell, column) => Lines(cell, _widths[column])).Max() * LineHeight) + Air;

    private static int Lines(Cell cell, double width)
    {
        int lines = 1;
        int used = 0;
        foreach (int word in cell is Cell.Text text ? text.Value.Split(' ').Select(word => word.Length) : [])
        {
            (lines, used) = used == 0 ? (lines, word)
                : (used + 1 + word) * WideLetters > width ? (lines + 1, word)
                : (lines, used + 1 + word);
        }

        return lines;
    }

    // A long line would make the printed sheet as wide as itself.
    private static IEnumerable<string> Lines(string note)
    {
        string line = "";
        foreach (string word in note.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && line.Length + word.Length > LongestNote)
            {
                yield return line;
                line = word;
            }
            else
            {
                line = line.Length == 0 ? word : $"{line} {word}";
            }
        }

        if (line.Length > 0)
        {
            yield return line;
        }
    }

    // A header may wrap at its words, and needs room for the filter's button.
    private static double WidthOf(ReportTable table, int column)
    {
        int longestWord = table.Columns[column].Title.Split(' ').Max(word => word.Length) + 5;
        int longestCell = table.Rows.Select(row => Length(row[column])).DefaultIfEmpty(0).Max();
        return Math.Clamp(Math.Max(longestWord, (longestCell * WideLetters) + 2), NarrowestColumn, WidestColumn);
    }

    private static int Length(Cell cell) => cell switch
    {
        Cell.Text text => text.Value.Length,
        Cell.Number number => number.Value.ToString("#,##0.0", CultureInfo.InvariantCulture).Length,
        Cell.Day => 10,
        Cell.Instant => 16,
        _ => 0,
    };

    private static string Reference(int row, int column)
    {
        string letters = "";
        for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26)
        {
            letters = (char)('A' + ((rest - 1) % 26)) + letters;
        }

        return string.Create(CultureInfo.InvariantCulture, $"{letters}{row}");
    }

    // Control characters are not lawful in XML, and spreadsheet programs cut at 32,767 characters.
    private static string Clean(string text)
    {
        string lawful = string.Concat(text.EnumerateRunes()
            .Where(rune => rune.Utf16SequenceLength == 2 || XmlConvert.IsXmlChar((char)rune.Value)));
        return lawful.Length > LongestText ? lawful[..LongestText] : lawful;
    }

    private static string Plain(string text) => Clean(text).Replace("&", "&&", StringComparison.Ordinal);
}
