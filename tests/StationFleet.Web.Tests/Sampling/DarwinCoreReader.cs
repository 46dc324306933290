using System.IO.Compression;
using System.Text;
using System.Xml.Linq;

namespace StationFleet.Web.Tests.Sampling;

/// <summary>
/// Reads a Darwin Core archive as a stranger would: by its meta.xml alone, with the separators, quotes, encoding and header lines that
/// it names. Nothing of the program's own writers or readers is used.
/// </summary>
internal sealed class DarwinCoreReader
{
    public const string Terms = "http://rs.tdwg.org/dwc/terms/";
    private static readonly XNamespace Text = "http://rs.tdwg.org/dwc/text/";

    private DarwinCoreReader(Table core, IReadOnlyList<Table> extensions, XDocument metadata, IReadOnlyList<string> files) =>
        (Core, Extensions, Metadata, Files) = (core, extensions, metadata, files);

    /// <summary>A file: the identifier of each row (a core's own, or that of its core row), and its values by the IRI of their term.</summary>
    internal sealed record Table(string Location, string RowType, IReadOnlyList<string> Iris, IReadOnlyList<Row> Rows);

    internal sealed record Row(string Id, IReadOnlyDictionary<string, string> Values)
    {
        /// <summary>A value by its name in the Darwin Core namespace; empty when the row's file has no such column.</summary>
        public string this[string name] => Values.GetValueOrDefault(Terms + name, "");
    }

    public Table Core { get; }

    public IReadOnlyList<Table> Extensions { get; }

    public XDocument Metadata { get; }

    public IReadOnlyList<string> Files { get; }

    public Table this[string rowType] => Extensions.Append(Core).Single(table => table.RowType == Terms + rowType);

    public static DarwinCoreReader Open(byte[] bytes)
    {
        using ZipArchive zip = new(new MemoryStream(bytes));
        XElement archive = XDocument.Load(Entry(zip, "meta.xml")).Root!;
        archive.Name.Should().Be(Text + "archive");
        string metadata = (string)archive.Attribute("metadata")!;
        return new DarwinCoreReader(
            Read(zip, archive.Elements(Text + "core").Single(), "id"),
            [.. archive.Elements(Text + "extension").Select(extension => Read(zip, extension, "coreid"))],
            XDocument.Load(Entry(zip, metadata)),
            [.. zip.Entries.Select(entry => entry.FullName)]);
    }

    private static Stream Entry(ZipArchive zip, string name) =>
        zip.GetEntry(name)?.Open() ?? throw new InvalidOperationException($"meta.xml names {name}, and it is not in the archive.");

    private static Table Read(ZipArchive zip, XElement described, string idElement)
    {
        string location = (string)described.Element(Text + "files")!.Element(Text + "location")!;
        Encoding encoding = Encoding.GetEncoding((string)described.Attribute("encoding")!, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback);
        using StreamReader reader = new(Entry(zip, location), encoding);
        char Separator(string attribute) => Unescape((string)described.Attribute(attribute)!);
        List<List<string>> lines = [.. Lines(reader.ReadToEnd(), Separator("fieldsTerminatedBy"), Separator("linesTerminatedBy"), Separator("fieldsEnclosedBy"))
            .Skip((int)described.Attribute("ignoreHeaderLines")!)];
        int id = (int)described.Element(Text + idElement)!.Attribute("index")!;
        (int Index, string Iri)[] fields = [.. described.Elements(Text + "field").Select(field => ((int)field.Attribute("index")!, (string)field.Attribute("term")!))];
        int width = fields.Max(field => field.Index) + 1;
        return new Table(location, (string)described.Attribute("rowType")!, [.. fields.Select(field => field.Iri)],
        [
            .. lines.Select(cells => cells.Count == width
                ? new Row(cells[id], fields.ToDictionary(field => field.Iri, field => cells[field.Index]))
                : throw new InvalidOperationException($"{location} has a row of {cells.Count} cells; meta.xml describes {width}.")),
        ]);
    }

    private static char Unescape(string text) => text switch { "\\n" => '\n', "\\t" => '\t', "\\r" => '\r', { Length: 1 } => text[0], _ => throw new FormatException(text) };

    // RFC 4180: a quote within quotes is doubled; separators within quotes are text.
    private static IEnumerable<List<string>> Lines(string text, char field, char line, char quote)
    {
        List<string> cells = [];
        StringBuilder cell = new();
        bool isQuoted = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (isQuoted && c == quote && i + 1 < text.Length && text[i + 1] == quote)
            {
                cell.Append(quote);
                i++;
            }
            else if (c == quote)
            {
                isQuoted = !isQuoted;
            }
            else if (!isQuoted && (c == field || c == line))
            {
                cells.Add(cell.ToString());
                cell.Clear();
                if (c == line)
                {
                    yield return cells;
                    cells = [];
                }
            }
            else
            {
                cell.Append(c);
            }
        }

        (isQuoted || cells.Count > 0 || cell.Length > 0).Should().BeFalse("the last line ends like the others");
    }
}
