using CsCheck;
using nietras.SeparatedValues;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Domain.Tests.Telemetry.LoggerFiles;

public sealed class CsvLineTests
{
    [Theory]
    [Source("RFC 4180, section 2, rules 4, 5 and 7; the line-break examples of rule 6 are refused on purpose")]
    [InlineData("aaa,bbb,ccc", "aaa|bbb|ccc")]
    [InlineData("\"aaa\",\"bbb\",\"ccc\"", "aaa|bbb|ccc")]
    [InlineData("\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc")]
    [InlineData("zzz,yyy,xxx", "zzz|yyy|xxx")]
    [InlineData("\"a,b\",", "a,b|")]
    [InlineData("", "")]
    public void A_line_is_cut_into_its_cells(string line, string cells) =>
        string.Join('|', CsvLine.Split(line, ',')!).Should().Be(cells);

    [Theory]
    [InlineData("1,\"never closed")]
    [InlineData("1,\"b\" x,3")]
    public void A_quote_that_is_not_closed_spoils_its_own_line_only(string line) => CsvLine.Split(line, ',').Should().BeNull();

    [Fact]
    [Source("Sep 0.17.1 (MIT), an independent CSV reader")]
    public void Any_quoted_line_is_cut_as_another_reader_cuts_it()
    {
        Gen<string> cell = Gen.Char["ab ,;\"1.-é"].Array[0, 8].Select(characters => new string(characters));
        Gen.Select(cell.Array[1, 6], Gen.Bool.Array[6]).Sample((cells, quotes) =>
        {
            // A line that is empty holds no row for the other reader.
            string line = string.Join(',', cells.Select((text, i) => quotes[i] || text.AsSpan().IndexOfAny(',', '"') >= 0 || cells.Length == 1
                ? $"\"{text.Replace("\"", "\"\"")}\""
                : text));

            CsvLine.Split(line, ',').Should().Equal(Elsewhere(line)).And.Equal(cells);
        }, iter: 2000);
    }

    private static string[] Elsewhere(string line)
    {
        using SepReader reader = Sep.New(',').Reader(options => options with { HasHeader = false, Unescape = true, DisableColCountCheck = true }).FromText(line);
        foreach (SepReader.Row row in reader)
        {
            string[] cells = new string[row.ColCount];
            for (int i = 0; i < cells.Length; i++)
            {
                cells[i] = row[i].ToString();
            }

            return cells;
        }

        return [];
    }
}
