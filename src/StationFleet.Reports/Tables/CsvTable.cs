using System.Globalization;
using System.Text;

namespace StationFleet.Reports.Tables;

/// <summary>
/// A table as CSV by RFC 4180: UTF-8 without a byte order mark, comma, CRLF, numbers and times the same in every culture. The same
/// table gives the same bytes.
/// </summary>
public static class CsvTable
{
    // Six decimals are far beyond what was measured, and hide how sums of doubles end.
    private const string NumberPattern = "0.######";

    private static readonly char[] Quoted = [',', '"', '\r', '\n'];

    public static byte[] Write(ReportTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        StringBuilder csv = new();
        AppendLine(csv, table.Columns.Select(column => column.Key));
        foreach (IReadOnlyList<Cell> row in table.Rows)
        {
            AppendLine(csv, row.Select(Value));
        }

        return new UTF8Encoding(encoderShouldEmitUTF8Identifier: false).GetBytes(csv.ToString());
    }

    private static string Value(Cell cell) => cell switch
    {
        Cell.Text text => Guard(text.Value),
        Cell.Number number => Math.Round(number.Value, 6).ToString(NumberPattern, CultureInfo.InvariantCulture),
        Cell.Day day => day.Value.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Cell.Instant instant => instant.Value.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        _ => "",
    };

    // Spreadsheets run a cell that begins like this as a formula (OWASP, CSV injection); an apostrophe makes it words.
    private static string Guard(string text) => text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' ? $"'{text}" : text;

    private static void AppendLine(StringBuilder csv, IEnumerable<string> values) =>
        csv.AppendJoin(',', values.Select(Quote)).Append("\r\n");

    private static string Quote(string value) =>
        value.IndexOfAny(Quoted) < 0 ? value : $"\"{value.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
