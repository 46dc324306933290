using System.Globalization;
using System.Text;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Tests.Tables;

public sealed class CsvTableTests
{
    [Theory]
    [InlineData("=1+2", "'=1+2")]
    [InlineData("+1", "'+1")]
    [InlineData("-1", "'-1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\tx", "'\tx")]
    [InlineData("\r=x", "\"'\r=x\"")]
    [InlineData("=\"a\",b", "\"'=\"\"a\"\",b\"")]
    [InlineData("a=b", "a=b")]
    [Source("OWASP, CSV Injection: cells that begin with = + - @ tab or CR")]
    public void Words_that_a_spreadsheet_would_run_are_made_harmless(string words, string written) =>
        Csv([Cell.Of(words)]).Should().Be($"name\r\n{written}\r\n");

    [Fact]
    public void A_negative_number_stays_a_number() => Csv([Cell.OneDecimal(-12.5)]).Should().Be("name\r\n-12.5\r\n");

    [Fact]
    [Source("RFC 4180, section 2: CRLF; fields with comma, quote or line break are quoted; a quote is doubled")]
    public void Fields_are_quoted_only_where_they_must_be() =>
        Csv([Cell.Of("a \"b\", c")], [Cell.Of("two\nlines")], [Cell.Of("plain text")], [Cell.None])
            .Should().Be("name\r\n\"a \"\"b\"\", c\"\r\n\"two\nlines\"\r\nplain text\r\n\r\n");

    [Fact]
    public void Numbers_and_times_read_the_same_in_every_culture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-CH");
            TimeZoneInfo boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

            Csv([Cell.OneDecimal(1234567.25)], [Cell.Share(0.1 + 0.2)], [new Cell.Day(new DateOnly(2026, 7, 8))],
                    [Cell.At(new DateTimeOffset(2026, 7, 8, 7, 5, 0, TimeSpan.FromHours(-6)), boise)])
                .Should().Be("name\r\n1234567.25\r\n0.3\r\n2026-07-08\r\n2026-07-08T13:05:00Z\r\n");
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void The_file_is_UTF_8_without_a_mark() =>
        CsvTable.Write(Table([Cell.Of("é")])).Should().Equal(Encoding.UTF8.GetBytes("name\r\né\r\n"));

    [Fact]
    public void A_table_refuses_a_row_that_does_not_fit_its_columns() =>
        FluentActions.Invoking(() => Table([Cell.None, Cell.None])).Should().Throw<ArgumentException>();

    private static string Csv(params IReadOnlyList<Cell>[] rows) => Encoding.UTF8.GetString(CsvTable.Write(Table(rows)));

    private static ReportTable Table(params IReadOnlyList<Cell>[] rows) =>
        new("t", "T", [new ReportColumn("name", "Name", ColumnKind.Text, "", "A name.")], rows);
}
