using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Stores one aliquot's counts. The same form sent twice is one aliquot; a zero says that the taxon was looked for.</summary>
internal sealed class SaveCounts(IDbContextFactory<FleetDbContext> databases, NewFinds finds, FleetClock clock)
{
    private const int MostCount = 100_000;
    private const double RoundingMl = 1e-6;

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, string code, string key, BenchInput typed, CancellationToken cancel)
    {
        if (!viewer.MaySample())
        {
            return new Outcome.NotAllowed();
        }

        if (!FormKey.IsWhole(key))
        {
            return new Outcome.Refused(new WrongFields { [""] = FormKey.NotWhole });
        }

        return await databases.WriteAsync(db => SaveAsync(db, viewer, code, key, typed, cancel), cancel);
    }

    private async Task<Outcome> SaveAsync(FleetDbContext db, Viewer viewer, string code, string key, BenchInput input, CancellationToken cancel)
    {
        Sample? sample = await db.SamplesVisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code && row.Kind != SampleKind.Pieces, cancel);
        if (sample is null)
        {
            return new Outcome.NotAllowed();
        }

        if (await db.SampleAliquots.AnyAsync(aliquot => aliquot.IdempotencyKey == key, cancel))
        {
            return new Outcome.Saved();
        }

        List<SampleAliquot> before = await db.SampleAliquots.AsNoTracking().Where(aliquot => aliquot.SampleId == sample.Id).OrderBy(aliquot => aliquot.Number).ToListAsync(cancel);
        Typed typed = new();
        string who = typed.Text(nameof(BenchInput.IdentifiedBy), input.IdentifiedBy, 120, "Write who identified them.");
        SampleAliquot? recounted = Recounted(typed, input, before, who);
        double? concentrateMl = sample.ConcentrateMl
            ?? typed.NumberOrNothing(nameof(BenchInput.ConcentrateMl), input.ConcentrateMl, 0.1, 100_000, "mL");
        double examinedMl = recounted?.ExaminedMl ?? Examined(typed, input, sample, concentrateMl, before);
        List<Taxon> taxa = await db.TaxaOf(sample, CountedAs.Aliquots).AsNoTracking().ToListAsync(cancel);
        List<AliquotCount> counts = Counts(typed, input, taxa, who);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        DateTimeOffset now = clock.GetUtcNow();
        SampleAliquot aliquot = new()
        {
            SampleId = sample.Id, Number = before.Count + 1, ExaminedMl = examinedMl, CountedBy = who, CountedAt = now, RecountOf = recounted?.Id, IdempotencyKey = key,
        };
        db.SampleAliquots.Add(aliquot);
        sample.ConcentrateMl = concentrateMl;
        sample.Version++;
        await db.SaveChangesAsync(cancel); // the aliquot's id
        db.AliquotCounts.AddRange(counts.Select(count => new AliquotCount
        {
            AliquotId = aliquot.Id, TaxonId = count.TaxonId, Stage = count.Stage, Count = count.Count, IdentifiedBy = who, Confidence = count.Confidence,
        }));
        db.SampleEvents.Add(new SampleEvent
        {
            SampleId = sample.Id, At = now, Kind = recounted is null ? SampleEventKind.Counted : SampleEventKind.Recounted, Who = viewer.Name,
            What = Told(aliquot, recounted, counts, taxa, sample.ConcentrateMl),
        });
        await finds.RaiseAsync(db, sample, [.. counts.Where(count => count.Count > 0).Select(count => count.TaxonId)], viewer.Name, now, cancel);
        return new Outcome.Saved();
    }

    private static SampleAliquot? Recounted(Typed typed, BenchInput input, List<SampleAliquot> before, string who)
    {
        if (string.IsNullOrWhiteSpace(input.RecountOf))
        {
            return null;
        }

        SampleAliquot? recounted = before.Find(aliquot =>
            aliquot.RecountOf is null && aliquot.Id.ToString(CultureInfo.InvariantCulture) == input.RecountOf);
        if (recounted is null)
        {
            typed.Wrong.Note(nameof(BenchInput.RecountOf), "Choose an aliquot of the list.");
        }
        else if (string.Equals(recounted.CountedBy, who, StringComparison.OrdinalIgnoreCase))
        {
            typed.Wrong.Note(nameof(BenchInput.RecountOf), $"{who} counted it the first time: a recount is by another person.");
        }

        return recounted;
    }

    private static double Examined(Typed typed, BenchInput input, Sample sample, double? concentrateMl, List<SampleAliquot> before)
    {
        double wholeMl = concentrateMl ?? (sample.Litres ?? 0) * 1000;
        double examinedMl = typed.Number(nameof(BenchInput.ExaminedMl), input.ExaminedMl, 0.01, 200_000, "mL");
        double togetherMl = examinedMl + before.Where(aliquot => aliquot.RecountOf is null).Sum(aliquot => aliquot.ExaminedMl);
        if (togetherMl > wholeMl + RoundingMl)
        {
            typed.Wrong.Note(nameof(BenchInput.ExaminedMl), before.Count == 0
                ? $"The sample has only {SampleTexts.Number(wholeMl)} mL."
                : $"Together the aliquots would be {SampleTexts.Number(togetherMl)} mL, and the sample has only {SampleTexts.Number(wholeMl)} mL.");
        }

        return examinedMl;
    }

    private static List<AliquotCount> Counts(Typed typed, BenchInput input, List<Taxon> taxa, string who)
    {
        List<AliquotCount> counts = [];
        foreach ((Taxon taxon, LifeStage stage) in taxa.SelectMany(taxon => taxon.Stages.Select(stage => (taxon, stage))))
        {
            string field = BenchInput.CountField(taxon.Id, stage);
            string text = input.Counts.GetValueOrDefault(field, "").Trim();
            if (text.Length == 0)
            {
                continue;
            }

            if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count > MostCount)
            {
                typed.Wrong.Note(field, "Write a whole number, 0 to 100000.");
                continue;
            }

            if (!Enum.TryParse(input.Confidences.GetValueOrDefault(BenchInput.ConfidenceField(taxon.Id, stage), nameof(Confidence.Certain)), out Confidence confidence)
                || !Enum.IsDefined(confidence))
            {
                typed.Wrong.Note(field, "Choose how sure the identification is.");
            }

            counts.Add(new AliquotCount { TaxonId = taxon.Id, Stage = stage, Count = count, IdentifiedBy = who, Confidence = confidence });
        }

        if (counts.Count == 0)
        {
            typed.Wrong.Note("", "Count at least one kind; write 0 for what was looked for and not there.");
        }

        return counts;
    }

    private static string Told(SampleAliquot aliquot, SampleAliquot? recounted, List<AliquotCount> counts, List<Taxon> taxa, double? concentrateMl)
    {
        string what = recounted is null ? $"Aliquot {aliquot.Number}" : $"Aliquot {recounted.Number} counted again by {aliquot.CountedBy}";
        string of = concentrateMl is { } whole ? $" of {SampleTexts.Number(whole)} mL" : "";
        return $"{what}, {SampleTexts.Number(aliquot.ExaminedMl)} mL{of}: "
            + string.Join("; ", counts.Select(count => $"{SamplingWords.Named(taxa.Find(taxon => taxon.Id == count.TaxonId)!.Name, count.Stage)} {count.Count}")) + ".";
    }
}
