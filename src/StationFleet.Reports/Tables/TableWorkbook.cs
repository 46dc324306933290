using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace StationFleet.Reports.Tables;

/// <summary>Tables as an XLSX workbook (Office Open XML): one sheet each, with typed cells, a frozen header and a filter.</summary>
public static class TableWorkbook
{
    public const string ContentType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    /// <param name="frame">What stands around the tables; its lead goes on the first sheet.</param>
    /// <param name="tables">The tables, in the order of their sheets.</param>
    /// <param name="progress">Gets the share that is done, 0 to 1; null when nobody looks.</param>
    public static byte[] Write(ReportFrame frame, IReadOnlyList<ReportTable> tables, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(frame);
        ArgumentNullException.ThrowIfNull(tables);
        using MemoryStream file = new();
        using (SpreadsheetDocument document = SpreadsheetDocument.Create(file, SpreadsheetDocumentType.Workbook))
        {
            document.PackageProperties.Title = frame.Title;
            document.PackageProperties.Creator = frame.Agency;
            WorkbookPart workbook = document.AddWorkbookPart();
            workbook.AddNewPart<WorkbookStylesPart>().Stylesheet = WorkbookStyles.Sheet();
            Sheets sheets = new();
            DefinedNames names = new();
            foreach ((int index, ReportTable table) in tables.Index())
            {
                WorksheetPart part = workbook.AddNewPart<WorksheetPart>();
                TableSheet sheet = new(frame, table, index == 0 ? frame.Lead : []);
                sheet.WriteTo(part);
                sheets.Append(new Sheet { Name = table.Title, SheetId = (uint)index + 1, Id = workbook.GetIdOfPart(part) });

                // The header is printed again on each page.
                names.Append(new DefinedName(string.Create(
                    CultureInfo.InvariantCulture, $"'{table.Title}'!${sheet.HeaderRow}:${sheet.HeaderRow}"))
                {
                    Name = "_xlnm.Print_Titles", LocalSheetId = (uint)index,
                });
                progress?.Invoke((index + 1.0) / tables.Count);
            }

            workbook.Workbook = new Workbook(sheets, names);
        }

        return file.ToArray();
    }
}
