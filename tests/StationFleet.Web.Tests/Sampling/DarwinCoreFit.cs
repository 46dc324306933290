using System.Globalization;
using Microsoft.Data.Sqlite;

namespace StationFleet.Web.Tests.Sampling;

/// <summary>Whether an archive fits the published guide and lists, and says what the database says, asked in SQL of the test's own.</summary>
internal static class DarwinCoreFit
{
    private static readonly Dictionary<string, string> Lists = new()
    {
        [DarwinCoreReader.Terms + "Event"] = "event.txt",
        [DarwinCoreReader.Terms + "Occurrence"] = "occurrence.txt",
        [DarwinCoreReader.Terms + "MeasurementOrFact"] = "measurementorfact.txt",
    };

    /// <summary>Each term's IRI is in the published list of its row type, those required are there, and identifiers resolve.</summary>
    public static void ToPublishedLists(DarwinCoreReader archive)
    {
        foreach (DarwinCoreReader.Table table in archive.Extensions.Append(archive.Core))
        {
            string[][] published = [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", Lists[table.RowType])).Select(line => line.Split(' '))];
            table.Iris.Should().OnlyHaveUniqueItems().And.BeSubsetOf(published.Select(term => term[0]), table.Location);
            published.Where(term => term.Length > 1 && term[1] == "required").Select(term => term[0]).Should().BeSubsetOf(table.Iris, table.Location);
            table.Rows.Should().NotBeEmpty(table.Location);
        }

        string[] ids = [.. archive.Core.Rows.Select(row => row.Id)];
        ids.Should().OnlyHaveUniqueItems().And.NotContain("");
        archive.Core.Rows.Should().OnlyContain(row => row.Id == row["eventID"], "the core's identifier is its eventID");
        archive.Extensions.SelectMany(table => table.Rows).Select(row => row.Id).Should().BeSubsetOf(ids, "each row belongs to an event of the core");
        archive.Core.Rows.Select(row => row["parentEventID"]).Where(parent => parent.Length > 0).Should().BeSubsetOf(ids);
        archive["Occurrence"].Rows.Select(row => row["occurrenceID"]).Should().OnlyHaveUniqueItems();
        archive["MeasurementOrFact"].Rows.Select(row => row["measurementID"]).Should().OnlyHaveUniqueItems();
        archive.Files.Should().BeEquivalentTo(archive.Extensions.Append(archive.Core).Select(table => table.Location).Concat(["meta.xml", "eml.xml"]));
    }

    /// <summary>Every counted jar with its litres and time, every released count, every volume looked through.</summary>
    /// <param name="archive">The archive.</param>
    /// <param name="database">The database file.</param>
    /// <param name="year">The local year of the archive; no jar lies near its ends.</param>
    public static void ToDatabase(DarwinCoreReader archive, string database, int year)
    {
        using SqliteConnection db = new($"Data Source={database};Mode=ReadOnly;Pooling=False");
        db.Open();
        string counted = $"""
            SELECT jar.id, jar.code, jar.taken_at, jar.litres, jar.concentrate_ml, a.latitude, a.water
            FROM samples jar JOIN accesses a ON a.id = jar.access_id
            WHERE jar.kind <> 'Blank' AND jar.taken_at >= {Instant(year)} AND jar.taken_at < {Instant(year + 1)}
              AND (EXISTS (SELECT 1 FROM sample_aliquots q JOIN aliquot_counts c ON c.aliquot_id = q.id WHERE q.sample_id = jar.id AND q.recount_of IS NULL)
                OR EXISTS (SELECT 1 FROM piece_finds p WHERE p.sample_id = jar.id))
            """;
        var jars = Rows(db, counted, row => (
            Id: row.GetInt64(0), Code: row.GetString(1), At: DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(2)), Litres: Number(row, 3), Latitude: row.GetDouble(5)));
        Dictionary<string, DarwinCoreReader.Row> events = archive.Core.Rows.ToDictionary(row => row.Id);
        archive.Core.Rows.Count(row => row["eventType"] == "Sample").Should().Be(jars.Count);
        foreach (var jar in jars)
        {
            DarwinCoreReader.Row told = events[jar.Code];
            told["eventDate"].Should().Be(jar.At.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture));
            Double(told["sampleSizeValue"]).Should().Be(jar.Litres, jar.Code);
            Double(told["decimalLatitude"]).Should().BeApproximately(jar.Latitude, 1e-5);
        }

        // Nothing of an open find is told; a presence only where the kind is known from that water.
        string counts = $"""
            SELECT s.code, t.scientific_name, c.stage, SUM(c.count) AS seen
            FROM ({counted}) s JOIN sample_aliquots q ON q.sample_id = s.id AND q.recount_of IS NULL JOIN aliquot_counts c ON c.aliquot_id = q.id
              JOIN taxa t ON t.id = c.taxon_id
            WHERE NOT EXISTS (SELECT 1 FROM new_finds f WHERE f.taxon_id = t.id AND f.water = s.water AND f.state IN ('Presumptive', 'Confirmed'))
            GROUP BY s.code, t.scientific_name, c.stage
            HAVING seen = 0 OR EXISTS (SELECT 1 FROM known_taxa k WHERE k.taxon_id = t.id AND k.water = s.water AND k.since <= date(s.taken_at / 1000, 'unixepoch'))
            """;
        IEnumerable<string> wanted = Rows(db, counts, row => $"{row.GetString(0)}|{row.GetString(1)}|{Told(row.GetString(2))}|{row.GetInt64(3)}").Order();
        archive["Occurrence"].Rows.Where(row => row["organismQuantityType"] == "individuals")
            .Select(row => $"{row.Id}|{row["scientificName"]}|{row["lifeStage"].Replace(" ", "", StringComparison.Ordinal)}|{row["individualCount"]}").Order()
            .Should().Equal(wanted);

        string examined = $"""
            SELECT s.code, s.litres * SUM(q.examined_ml) / s.concentrate_ml FROM ({counted}) s
            JOIN sample_aliquots q ON q.sample_id = s.id AND q.recount_of IS NULL WHERE s.concentrate_ml > 0 GROUP BY s.code
            """;
        foreach ((string code, double litres) in Rows(db, examined, row => (row.GetString(0), row.GetDouble(1))))
        {
            Double(archive["MeasurementOrFact"].Rows.Single(row => row.Id == code && row["measurementType"] == "tank water examined")["measurementValue"])
                .Should().BeApproximately(litres, 1e-6, code);
        }
    }

    private static string Told(string stage) => stage == "Juvenile" ? "settledjuvenile" : stage.ToLowerInvariant();

    private static long Instant(int year) => new DateTimeOffset(year, 1, 1, 0, 0, 0, TimeSpan.Zero).ToUnixTimeMilliseconds();

    private static List<T> Rows<T>(SqliteConnection db, string sql, Func<SqliteDataReader, T> read)
    {
        using SqliteCommand command = db.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader reader = command.ExecuteReader();
        List<T> rows = [];
        while (reader.Read())
        {
            rows.Add(read(reader));
        }

        return rows;
    }

    private static double? Number(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    private static double? Double(string text) => text.Length == 0 ? null : double.Parse(text, CultureInfo.InvariantCulture);
}
