using System.Text.Encodings.Web;
using System.Text.Json;

namespace StationFleet.Reports.Tables;

/// <summary>Says in JSON what the CSV files of an export hold: columns, types, units and definitions.</summary>
public static class TableDescription
{
    private static readonly JsonWriterOptions Readable = new()
    {
        Indented = true,
        NewLine = "\n",

        // The file is served as JSON, never inside a page: dashes and quotation marks may stay themselves.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <param name="frame">What the export is.</param>
    /// <param name="tables">Its tables.</param>
    /// <param name="address">The address of a table's CSV file, relative to the description's.</param>
    public static byte[] Write(ReportFrame frame, IEnumerable<ReportTable> tables, Func<ReportTable, string> address)
    {
        ArgumentNullException.ThrowIfNull(frame);
        using MemoryStream json = new();
        using (Utf8JsonWriter writer = new(json, Readable))
        {
            writer.WriteStartObject();
            writer.WriteString("title", frame.Title);
            writer.WriteString("publisher", frame.Agency);
            if (frame.IsInvented)
            {
                writer.WriteString("note", ReportFrame.InventedNote);
            }

            writer.WriteStartArray("tables");
            foreach (ReportTable table in tables)
            {
                WriteTable(writer, table, address(table));
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        return json.ToArray();
    }

    private static void WriteTable(Utf8JsonWriter writer, ReportTable table, string address)
    {
        writer.WriteStartObject();
        writer.WriteString("url", address);
        writer.WriteString("title", table.Title);
        writer.WriteNumber("rows", table.Rows.Count);
        writer.WriteStartArray("columns");
        foreach (ReportColumn column in table.Columns)
        {
            writer.WriteStartObject();
            writer.WriteString("name", column.Key);
            writer.WriteString("title", column.Title);
            writer.WriteString("datatype", DataType(column.Kind));
            if (column.Unit.Length > 0)
            {
                writer.WriteString("unit", column.Unit);
            }

            writer.WriteString("definition", column.Definition);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    // The names are those of W3C's "Metadata Vocabulary for Tabular Data".
    private static string DataType(ColumnKind kind) => kind switch
    {
        ColumnKind.Count => "integer",
        ColumnKind.Number or ColumnKind.Figure => "number",
        ColumnKind.Date => "date",
        ColumnKind.Instant => "dateTime",
        _ => "string",
    };
}
