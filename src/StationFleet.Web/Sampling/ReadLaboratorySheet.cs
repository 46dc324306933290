using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Sampling;

/// <summary>Reads a laboratory's spreadsheet and says, row by row, what would come of it; stores nothing.</summary>
internal sealed class ReadLaboratorySheet(IDbContextFactory<FleetDbContext> databases)
{
    private const int MostRows = 20_000;
    private static readonly string[] SameForAliquot = ["examined_ml", "concentrate_ml", "identified_by"];
    private static readonly char[] Delimiters = [',', ';', '\t'];

    /// <summary>What would come of a row.</summary>
    internal enum Verdict
    {
        New,

        /// <summary>The same count is stored already.</summary>
        Known,

        /// <summary>No count in it.</summary>
        Empty,

        Wrong,
    }

    /// <param name="Line">Its line in the file, from 1 on.</param>
    /// <param name="Words">What is wrong with it; empty when nothing is.</param>
    internal sealed record Row(int Line, string Sample, string What, Verdict Verdict, string Words);

    /// <summary>An aliquot to store.</summary>
    internal sealed record Aliquot(string Sample, int Number, BenchInput Input);

    /// <param name="Fault">Why the file as a whole cannot be read; null when it can.</param>
    internal sealed record Preview(string? Fault, IReadOnlyList<Row> Rows, IReadOnlyList<Aliquot> Aliquots)
    {
        public static Preview Unreadable(string fault) => new(fault, [], []);
    }

    private sealed record Line(int Number, IReadOnlyDictionary<string, string> Cells)
    {
        public string this[string column] => Cells.GetValueOrDefault(column, "");
    }

    private sealed record Entry(Line Line, Sample Sample, int Aliquot, Taxon Taxon, LifeStage Stage, int Count, Confidence Confidence);

    private sealed record Stored(string Code, int Number, TaxonId Taxon, LifeStage Stage, int Count);

    public async Task<Preview> HandleAsync(Viewer viewer, string text, CancellationToken cancel)
    {
        (string? fault, List<Line> lines) = Lines(text);
        if (fault is not null)
        {
            return Preview.Unreadable(fault);
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        string[] codes = [.. lines.Select(line => line["sample"]).Distinct()];
        Dictionary<string, Sample> samples = await db.SamplesVisibleTo(viewer).Where(sample => codes.Contains(sample.Code) && sample.Kind != SampleKind.Pieces)
            .ToDictionaryAsync(sample => sample.Code, cancel);
        Dictionary<string, List<Taxon>> taxa = [];
        foreach (Sample sample in samples.Values)
        {
            taxa[sample.Code] = await db.TaxaOf(sample, CountedAs.Aliquots).ToListAsync(cancel);
        }

        List<Stored> stored = await (
            from aliquot in db.SampleAliquots
            join sample in db.Samples on aliquot.SampleId equals sample.Id
            where codes.Contains(sample.Code)
            join count in db.AliquotCounts on aliquot.Id equals count.AliquotId
            select new Stored(sample.Code, aliquot.Number, count.TaxonId, count.Stage, count.Count)).ToListAsync(cancel);
        return Judge(lines, samples, taxa, stored);
    }

    private static Preview Judge(
        List<Line> lines, Dictionary<string, Sample> samples, Dictionary<string, List<Taxon>> taxa, List<Stored> stored)
    {
        List<Row> rows = [];
        List<Entry> entries = [];
        HashSet<(string, int)> spoilt = [];
        foreach (Line line in lines)
        {
            (Entry? entry, Verdict verdict, string words) = Read(line, samples, taxa, stored, entries);
            if (entry is not null && verdict == Verdict.New)
            {
                entries.Add(entry);
            }

            if (verdict == Verdict.Wrong && int.TryParse(line["aliquot"], out int aliquot))
            {
                spoilt.Add((line["sample"], aliquot));
            }

            string count = line["count"].Length == 0 ? "" : $": {line["count"]}";
            rows.Add(new Row(line.Number, line["sample"], $"aliquot {line["aliquot"]}, {line["scientific_name"]} {line["stage"]}".TrimEnd() + count, verdict, words));
        }

        // An aliquot is stored whole or not at all: half of it would say that the rest was not looked for.
        List<Aliquot> aliquots = [];
        foreach (IGrouping<(string Code, int Aliquot), Entry> group in entries.GroupBy(entry => (entry.Sample.Code, entry.Aliquot)).OrderBy(group => group.Key.Aliquot))
        {
            int next = stored.Where(one => one.Code == group.Key.Code).Select(one => one.Number).DefaultIfEmpty(0).Max() + 1
                + aliquots.Count(aliquot => aliquot.Sample == group.Key.Code);
            string? why = spoilt.Contains(group.Key) ? "left out: another row of this aliquot is wrong"
                : group.Key.Aliquot != next ? $"left out: the next aliquot of this sample is {next.ToString(CultureInfo.InvariantCulture)}"
                : Differs(group);
            if (why is null)
            {
                aliquots.Add(new Aliquot(group.Key.Code, group.Key.Aliquot, InputOf([.. group])));
                continue;
            }

            foreach (int number in group.Select(entry => entry.Line.Number))
            {
                int at = rows.FindIndex(row => row.Line == number);
                rows[at] = rows[at] with { Verdict = Verdict.Wrong, Words = why };
            }
        }

        return new Preview(null, rows, aliquots);
    }

    private static string? Differs(IEnumerable<Entry> group) =>
        SameForAliquot.FirstOrDefault(column => group.Select(entry => entry.Line[column]).Distinct().Count() > 1) is { } column
            ? $"left out: rows of one aliquot have different {column}"
            : null;

    private static BenchInput InputOf(IReadOnlyList<Entry> group) => new()
    {
        ExaminedMl = group[0].Line["examined_ml"],
        ConcentrateMl = group[0].Line["concentrate_ml"],
        IdentifiedBy = group[0].Line["identified_by"],
        Counts = group.ToDictionary(entry => BenchInput.CountField(entry.Taxon.Id, entry.Stage), entry => entry.Count.ToString(CultureInfo.InvariantCulture)),
        Confidences = group.ToDictionary(entry => BenchInput.ConfidenceField(entry.Taxon.Id, entry.Stage), entry => entry.Confidence.ToString()),
    };

    private static (Entry? Entry, Verdict Verdict, string Words) Read(
        Line line, Dictionary<string, Sample> samples, Dictionary<string, List<Taxon>> taxa, List<Stored> stored, List<Entry> before)
    {
        if (!samples.TryGetValue(line["sample"], out Sample? sample))
        {
            return (null, Verdict.Wrong, "There is no such sample among yours that is counted in aliquots.");
        }

        if (!int.TryParse(line["aliquot"], NumberStyles.None, CultureInfo.InvariantCulture, out int aliquot) || aliquot is < 1 or > 99)
        {
            return (null, Verdict.Wrong, "The aliquot is a whole number, 1 to 99.");
        }

        string name = line["scientific_name"];
        Taxon? taxon = taxa[sample.Code].Find(one => Same(one.ScientificName, name) || Same(one.Name, name));
        if (taxon is null)
        {
            return (null, Verdict.Wrong, "This kind is not on the list of what is looked for.");
        }

        LifeStage? stage = line["stage"].Length == 0
            ? taxon.Stages.Count == 1 ? taxon.Stages[0] : taxon.Stages.Contains(LifeStage.Any) ? LifeStage.Any : null
            : taxon.Stages.Where(one => Same(SamplingWords.Of(one), line["stage"]) || Same(one.ToString(), line["stage"])).Select(one => (LifeStage?)one).FirstOrDefault();
        if (stage is not { } of)
        {
            return (null, Verdict.Wrong, $"Its stages are: {string.Join(", ", taxon.Stages.Select(one => one == LifeStage.Any ? "empty" : SamplingWords.Of(one)))}.");
        }

        if (line["count"].Length == 0)
        {
            return (null, Verdict.Empty, "");
        }

        if (!int.TryParse(line["count"], NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count > 100_000)
        {
            return (null, Verdict.Wrong, "The count is a whole number, 0 to 100000, or empty.");
        }

        if (stored.Find(one => one.Code == sample.Code && one.Number == aliquot && one.Taxon == taxon.Id && one.Stage == of) is { } known)
        {
            return known.Count == count
                ? (null, Verdict.Known, "")
                : (null, Verdict.Wrong, $"{known.Count.ToString(CultureInfo.InvariantCulture)} is stored: correct it on the sample’s page, with the reason.");
        }

        if (stored.Exists(one => one.Code == sample.Code && one.Number == aliquot))
        {
            return (null, Verdict.Wrong, "This aliquot is stored without this kind.");
        }

        if (before.Exists(entry => entry.Sample.Code == sample.Code && entry.Aliquot == aliquot && entry.Taxon.Id == taxon.Id && entry.Stage == of))
        {
            return (null, Verdict.Wrong, "This stands in the file twice.");
        }

        return Checked(line, sample, new Entry(line, sample, aliquot, taxon, of, count, Confidence.Certain));
    }

    private static (Entry? Entry, Verdict Verdict, string Words) Checked(Line line, Sample sample, Entry entry)
    {
        if (!double.TryParse(line["examined_ml"], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double examined) || examined <= 0)
        {
            return (null, Verdict.Wrong, "Write the millilitres looked through, such as 1 or 2.5.");
        }

        string concentrate = line["concentrate_ml"];
        if (concentrate.Length > 0 && (!double.TryParse(concentrate, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double ml) || (sample.ConcentrateMl is { } own && Math.Abs(own - ml) > 0.05)))
        {
            return (null, Verdict.Wrong, sample.ConcentrateMl is { } whole ? $"Its concentrate is {SampleTexts.Number(whole)} mL." : "Write the concentrate in millilitres, such as 50.");
        }

        if (line["identified_by"].Length is 0 or > 120)
        {
            return (null, Verdict.Wrong, "Write who identified it.");
        }

        Confidence? confidence = line["confidence"].Length == 0
            ? Confidence.Certain
            : Enum.GetValues<Confidence>().Where(one => Same(SamplingWords.Of(one), line["confidence"])).Select(one => (Confidence?)one).FirstOrDefault();
        return confidence is { } sure
            ? (entry with { Confidence = sure }, Verdict.New, "")
            : (null, Verdict.Wrong, "The confidence is certain, probable or tentative.");
    }

    private static (string? Fault, List<Line> Lines) Lines(string text)
    {
        string[] all = text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n');
        char delimiter = Delimiters.MaxBy(one => all[0].Count(c => c == one));
        if (CsvLine.Split(all[0], delimiter) is not { } header)
        {
            return ("The first line is not a line of column names.", []);
        }

        string[] names = [.. header.Select(name => name.Trim().ToLowerInvariant())];
        string[] missing = [.. LaboratorySheet.Columns.Select(column => column.Key).Where(key => key is not ("confidence" or "concentrate_ml") && !names.Contains(key))];
        if (missing.Length > 0)
        {
            return ($"These columns are missing: {string.Join(", ", missing)}.", []);
        }

        if (all.Length > MostRows)
        {
            return ($"The file has more than {MostRows} rows: cut it in parts.", []);
        }

        List<Line> lines = [];
        for (int i = 1; i < all.Length; i++)
        {
            if (all[i].Trim().Length == 0)
            {
                continue;
            }

            IReadOnlyList<string>? cells = CsvLine.Split(all[i], delimiter);
            if (cells is null || cells.Count > names.Length)
            {
                return ($"Line {i + 1} cannot be cut into cells: is a quote open, or a separator within a cell?", []);
            }

            Dictionary<string, string> byName = [];
            for (int cell = 0; cell < cells.Count; cell++)
            {
                byName.TryAdd(names[cell], Unguarded(cells[cell].Trim()));
            }

            lines.Add(new Line(i + 1, byName));
        }

        return (null, lines);
    }

    // Our own export puts an apostrophe before what a spreadsheet would run as a formula.
    private static string Unguarded(string cell) => cell is ['\'', '=' or '+' or '-' or '@', ..] ? cell[1..] : cell;

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
