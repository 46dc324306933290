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
            SELECT jar."Id", jar."Code", jar."TakenAt", jar."Litres", jar."ConcentrateMl", a."Latitude"
            FROM samples jar JOIN accesses a ON a."Id" = jar."AccessId"
            WHERE jar."Kind" <> 'Blank' AND jar."TakenAt" >= {Instant(year)} AND jar."TakenAt" < {Instant(year + 1)}
              AND (EXISTS (SELECT 1 FROM sample_aliquots q JOIN aliquot_counts c ON c."AliquotId" = q."Id" WHERE q."SampleId" = jar."Id" AND q."RecountOf" IS NULL)
                OR EXISTS (SELECT 1 FROM piece_finds p WHERE p."SampleId" = jar."Id"))
            """;
        var jars = Rows(db, counted, row => (
            Id: row.GetInt64(0), Code: row.GetString(1), At: DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(2)), Litres: Number(row, 3), Ml: Number(row, 4), Latitude: row.GetDouble(5)));
        Dictionary<string, DarwinCoreReader.Row> events = archive.Core.Rows.ToDictionary(row => row.Id);
        archive.Core.Rows.Count(row => row["eventType"] == "Sample").Should().Be(jars.Count);
        foreach (var jar in jars)
        {
            DarwinCoreReader.Row told = events[jar.Code];
            told["eventDate"].Should().Be(jar.At.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture));
            Double(told["sampleSizeValue"]).Should().Be(jar.Litres, jar.Code);
            Double(told["decimalLatitude"]).Should().BeApproximately(jar.Latitude, 1e-5);
        }

        // A kind that is known from the water, or looked for and not found there.
        string counts = $"""
            SELECT s."Code", t."ScientificName", c."Stage", SUM(c."Count"), MAX(k."TaxonId" IS NOT NULL),
              MAX(EXISTS (SELECT 1 FROM new_finds f WHERE f."TaxonId" = t."Id" AND f."State" IN ('Presumptive', 'Confirmed')))
            FROM ({counted}) s JOIN sample_aliquots q ON q."SampleId" = s."Id" AND q."RecountOf" IS NULL JOIN aliquot_counts c ON c."AliquotId" = q."Id"
              JOIN taxa t ON t."Id" = c."TaxonId" JOIN samples o ON o."Id" = s."Id" JOIN accesses a ON a."Id" = o."AccessId"
              LEFT JOIN known_taxa k ON k."TaxonId" = t."Id" AND k."Water" = a."Water"
            GROUP BY s."Code", t."ScientificName", c."Stage"
            """;
        var found = Rows(db, counts, row => (
            Code: row.GetString(0), Name: row.GetString(1), Stage: row.GetString(2), Count: row.GetInt64(3), IsKnown: row.GetInt64(4) == 1, IsOpen: row.GetInt64(5) == 1));
        var wanted = found.Where(one => one.Count > 0 ? one.IsKnown : !one.IsOpen || one.IsKnown).Select(one => $"{one.Code}|{one.Name}|{one.Stage.ToLowerInvariant()}|{one.Count}").Order();
        archive["Occurrence"].Rows.Where(row => row["organismQuantityType"] == "individuals")
            .Select(row => $"{row.Id}|{row["scientificName"]}|{row["lifeStage"].Replace(" ", "", StringComparison.Ordinal)}|{row["individualCount"]}").Order()
            .Should().Equal(wanted);

        string examined = $"""
            SELECT s."Code", s."Litres" * SUM(q."ExaminedMl") / s."ConcentrateMl" FROM ({counted}) s
            JOIN sample_aliquots q ON q."SampleId" = s."Id" AND q."RecountOf" IS NULL WHERE s."ConcentrateMl" > 0 GROUP BY s."Code"
            """;
        foreach ((string code, double litres) in Rows(db, examined, row => (row.GetString(0), row.GetDouble(1))))
        {
            Double(archive["MeasurementOrFact"].Rows.Single(row => row.Id == code && row["measurementType"] == "tank water examined")["measurementValue"])
                .Should().BeApproximately(litres, 1e-6, code);
        }
    }

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
