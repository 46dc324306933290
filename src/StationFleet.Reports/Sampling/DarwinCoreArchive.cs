using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace StationFleet.Reports.Sampling;

/// <summary>A data set that somebody else can read: events at which organisms were looked for, what was found, what was measured.</summary>
/// <param name="Title">The data set's name.</param>
/// <param name="Organization">Who answers for it.</param>
/// <param name="Contact">An e-mail address for questions; null without one.</param>
/// <param name="License">The address of the licence under which it is given; null: all rights stay with the organization.</param>
/// <param name="Published">The day it was made.</param>
/// <param name="TermList">The list of terms whose recommended words it uses.</param>
/// <param name="Events">The events.</param>
/// <param name="Occurrences">What was found, or looked for and not found.</param>
/// <param name="Measurements">What was measured at the events.</param>
public sealed record DarwinCoreData(
    string Title, string Organization, string? Contact, string? License, DateOnly Published, string TermList,
    IReadOnlyList<DarwinCoreRow> Events, IReadOnlyList<DarwinCoreRow> Occurrences, IReadOnlyList<DarwinCoreRow> Measurements);

/// <summary>A row: values by the name of their term. A term without a value is left out.</summary>
/// <param name="EventId">The event that it is, or belongs to.</param>
/// <param name="Values">By term.</param>
public sealed record DarwinCoreRow(string EventId, IReadOnlyDictionary<string, string> Values);

/// <summary>
/// Writes a Darwin Core archive: an event core with occurrences and measurements, by the Darwin Core text guide. The same data give
/// the same bytes.
/// </summary>
public static class DarwinCoreArchive
{
    public const string Terms = "http://rs.tdwg.org/dwc/terms/";

    private static readonly XNamespace Text = "http://rs.tdwg.org/dwc/text/";
    private static readonly XNamespace Eml = "https://eml.ecoinformatics.org/eml-2.2.0";

    private sealed record File(string Name, string RowType, IReadOnlyList<string> Columns, IReadOnlyList<DarwinCoreRow> Rows);

    public static byte[] Write(DarwinCoreData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        File core = FileOf("event.txt", "Event", data.Events);
        File[] extensions = [FileOf("occurrence.txt", "Occurrence", data.Occurrences), FileOf("measurementorfact.txt", "MeasurementOrFact", data.Measurements)];
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add(zip, data.Published, "meta.xml", Xml(Meta(core, extensions)));
            Add(zip, data.Published, "eml.xml", Xml(Metadata(data)));
            foreach (File file in (File[])[core, .. extensions])
            {
                Add(zip, data.Published, file.Name, Table(file));
            }
        }

        return bytes.ToArray();
    }

    // A column for each term that any row has; the identifier of the event comes first, and is not a term of an extension's own.
    private static File FileOf(string name, string rowType, IReadOnlyList<DarwinCoreRow> rows) =>
        new(name, Terms + rowType, [.. rows.SelectMany(row => row.Values.Keys).Distinct()], rows);

    private static XElement Meta(File core, IEnumerable<File> extensions) => new(
        Text + "archive",
        new XAttribute("metadata", "eml.xml"),
        Described("core", "id", core),
        extensions.Select(extension => Described("extension", "coreid", extension)));

    private static XElement Described(string element, string id, File file) => new(
        Text + element,
        new XAttribute("encoding", "UTF-8"),
        new XAttribute("fieldsTerminatedBy", ","),
        new XAttribute("linesTerminatedBy", "\\n"),
        new XAttribute("fieldsEnclosedBy", "\""),
        new XAttribute("ignoreHeaderLines", "1"),
        new XAttribute("rowType", file.RowType),
        new XElement(Text + "files", new XElement(Text + "location", file.Name)),
        new XElement(Text + id, new XAttribute("index", 0)),
        id == "id" ? new XElement(Text + "field", new XAttribute("index", 0), new XAttribute("term", Terms + "eventID")) : null,
        file.Columns.Select((column, index) => new XElement(Text + "field", new XAttribute("index", index + 1), new XAttribute("term", Terms + column))));

    private static string Table(File file)
    {
        StringBuilder table = new();
        Line(table, ["eventID", .. file.Columns]);
        foreach (DarwinCoreRow row in file.Rows)
        {
            Line(table, [row.EventId, .. file.Columns.Select(column => row.Values.GetValueOrDefault(column, ""))]);
        }

        return table.ToString();
    }

    private static void Line(StringBuilder table, IEnumerable<string> values) => table.AppendJoin(',', values.Select(Quoted)).Append('\n');

    // Readers differ over line breaks within a field: there are none.
    private static string Quoted(string value) =>
        $"\"{string.Concat(value.Select(c => char.IsControl(c) ? ' ' : c)).Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    private static XElement Metadata(DarwinCoreData data)
    {
        XElement[] who =
        [
            new("organizationName", data.Organization),
            .. data.Contact is { } contact ? (XElement[])[new XElement("electronicMailAddress", contact)] : [],
        ];
        return new XElement(
            Eml + "eml",
            new XAttribute(XNamespace.Xmlns + "eml", Eml),
            new XAttribute("packageId", string.Create(CultureInfo.InvariantCulture, $"tank-samples/{data.Published:yyyy-MM-dd}")),
            new XAttribute("system", "StationFleet"),
            new XElement(
                "dataset",
                new XElement("title", data.Title),
                new XElement("creator", who),
                new XElement("pubDate", data.Published.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
                new XElement("language", "en"),
                new XElement("abstract", new XElement("para",
                    "Organisms counted in water that boaters removed from boats at cleaning stations. A find says that an organism was on a boat or in its water, "
                    + "not where it came from and not that it lives in the water named. Alive or dead was not determined. Losses before counting are not included. "
                    + "Records that the agency has not released are withheld. " + $"Terms and their recommended words: Darwin Core List of Terms {data.TermList}.")),
                new XElement("intellectualRights", new XElement("para", data.License is { } license ? $"This work is licensed under {license}" : $"All rights: {data.Organization}.")),
                new XElement("contact", who)));
    }

    private static string Xml(XElement root)
    {
        StringBuilder text = new();
        using (XmlWriter writer = XmlWriter.Create(new Utf8Text(text), new XmlWriterSettings { Indent = true, NewLineChars = "\n" }))
        {
            root.Save(writer);
        }

        return text.Append('\n').ToString();
    }

    private static void Add(ZipArchive zip, DateOnly day, string name, string content)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name);
        entry.LastWriteTime = new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
        using Stream stream = entry.Open();
        stream.Write(new UTF8Encoding(encoderShouldEmitUTF8Identifier: false).GetBytes(content));
    }

    // The declaration names the encoding of the writer below.
    private sealed class Utf8Text(StringBuilder text) : StringWriter(text, CultureInfo.InvariantCulture)
    {
        public override Encoding Encoding => Encoding.UTF8;
    }
}
