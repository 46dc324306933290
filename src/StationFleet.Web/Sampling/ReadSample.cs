using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>One sample with its whole chain.</summary>
public sealed class ReadSample(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    public sealed record Count(int Id, string Name, int Value, string Confidence);

    /// <param name="RecountOf">The number of the aliquot that it counts again; null for a first count.</param>
    public sealed record Aliquot(int Number, double ExaminedMl, string By, string At, int? RecountOf, IReadOnlyList<Count> Counts);

    /// <param name="IsPresent">Null: not looked for yet.</param>
    public sealed record Piece(int Taxon, string Name, bool? IsPresent, int? Pieces, double? WeightG, string By, string Confidence);

    public sealed record Handing(
        string At, string RelinquishedBy, string ReceivedBy, string? Seal, string? Preservative, string? Courier, string? LaboratoryNumber, string? Promised);

    public sealed record Happening(string At, string Who, string What);

    /// <summary>A jar of the same tank water.</summary>
    public sealed record Sibling(string Code, SampleKind Kind, bool IsCounted);

    public sealed record Find(int Id, string Taxon, FindState State);

    /// <param name="Water">Since when the water gathered and how it ended, in words.</param>
    /// <param name="Age">How long it had gathered, in words; null when the emptying before is not known.</param>
    /// <param name="Left">What was left after the emptying before, in words.</param>
    /// <param name="ExaminedLitres">Tank water looked through so far [L]; null until something is.</param>
    /// <param name="DirtyBlanks">What the blanks of its taking held, in words; empty when they were clean or there is none.</param>
    public sealed record View(
        Sample Sample, string Station, string? Where, string ZoneId, string Taken, UnitSystem Units, string Water, string? Age, string Left,
        double? ExaminedLitres, IReadOnlyList<Aliquot> Aliquots, IReadOnlyList<Piece> Pieces, IReadOnlyList<Handing> Custody, bool IsOverdue,
        IReadOnlyList<Happening> History, IReadOnlyList<Sibling> Siblings, string DirtyBlanks, bool HasBlank, IReadOnlyList<Find> Finds, bool MaySample);

    public async Task<View?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        UnitSystem units = options.Value.Units;
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        if (await db.SamplesVisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel) is not { } sample)
        {
            return null;
        }

        Access? access = await db.Accesses.SingleOrDefaultAsync(row => row.Id == sample.AccessId, cancel);
        TimeZoneInfo zone = access?.Zone ?? options.Value.Zone;
        TankWaters waters = await TankWaters.ReadAsync(db, sample.StationId, withUncertainty: false, cancel);
        TankWater water = waters.At(sample.TakenAt);
        IReadOnlyList<Aliquot> aliquots = await AliquotsAsync(db, sample.Id, now, zone, cancel);
        double examinedMl = aliquots.Where(aliquot => aliquot.RecountOf is null).Sum(aliquot => aliquot.ExaminedMl);
        List<CustodyStep> custody = await db.CustodySteps.Where(step => step.SampleId == sample.Id).OrderBy(step => step.At).ThenBy(step => step.Id).ToListAsync(cancel);
        IReadOnlyList<Piece> pieces = sample.Kind == SampleKind.Pieces ? await PiecesAsync(db, sample, cancel) : [];
        bool isCounted = aliquots.Count > 0 || pieces.Any(piece => piece.IsPresent is not null);
        return new View(
            sample,
            await db.Stations.Where(station => station.Id == sample.StationId).Select(station => station.Code).SingleAsync(cancel),
            access is null ? null : $"{access.Name}, {access.Water}",
            zone.Id,
            LocalTimes.Say(sample.TakenAt, zone),
            units,
            WaterWords(water, now, zone, units),
            water.AgeAt(sample.TakenAt) is { } age ? TimeWords.Length(age) : null,
            LeftWords(sample, waters.LeftLitres(water), units),
            examinedMl > 0 && sample.Litres is { } litres ? ExaminedWater.Litres(litres, examinedMl, sample.ConcentrateMl) : null,
            aliquots,
            pieces,
            [.. custody.Select(step => new Handing(
                LocalTimes.Say(step.At, zone), step.RelinquishedBy, step.ReceivedBy, step.Seal, step.Preservative, step.Courier, step.LaboratoryNumber,
                step.Promised is { } day ? SpokenTime.Day(day, LocalCalendar.DateOf(now, zone)) : null))],
            !isCounted && custody.LastOrDefault()?.Promised < LocalCalendar.DateOf(now, zone),
            [.. (await db.SampleEvents.Where(happening => happening.SampleId == sample.Id).OrderBy(happening => happening.At).ThenBy(happening => happening.Id).ToListAsync(cancel))
                .Select(happening => new Happening(LocalTimes.Say(happening.At, zone), happening.Who, happening.What))],
            await SiblingsAsync(db, sample, water, cancel),
            await DirtyBlanksAsync(db, sample, cancel),
            await db.Samples.AnyAsync(other => other.TakingKey == sample.TakingKey && other.Kind == SampleKind.Blank, cancel),
            [.. (await (from find in db.NewFinds where find.SampleId == sample.Id join taxon in db.Taxa on find.TaxonId equals taxon.Id
                select new { find.Id, taxon.Name, find.State }).ToListAsync(cancel)).Select(find => new Find(find.Id.Value, find.Name, find.State))],
            viewer.MaySample());
    }

    private static async Task<IReadOnlyList<Aliquot>> AliquotsAsync(FleetDbContext db, SampleId sample, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        List<SampleAliquot> rows = await db.SampleAliquots.Where(aliquot => aliquot.SampleId == sample).OrderBy(aliquot => aliquot.Number).ToListAsync(cancel);
        var counts = (await (
            from count in db.AliquotCounts
            where db.SampleAliquots.Any(aliquot => aliquot.Id == count.AliquotId && aliquot.SampleId == sample)
            join taxon in db.Taxa on count.TaxonId equals taxon.Id
            orderby taxon.Name, count.Stage
            select new { count.Id, count.AliquotId, taxon.Name, count.Stage, count.Count, count.Confidence }).ToListAsync(cancel)).ToLookup(count => count.AliquotId);
        return
        [
            .. rows.Select(row => new Aliquot(
                row.Number, row.ExaminedMl, row.CountedBy, SpokenTime.At(row.CountedAt, now, zone),
                rows.Find(other => other.Id == row.RecountOf)?.Number,
                [.. counts[row.Id].Select(count => new Count(count.Id, SamplingWords.Named(count.Name, count.Stage), count.Count, SamplingWords.Of(count.Confidence)))])),
        ];
    }

    // What was looked for before stays on the list, also when the taxon is retired since.
    private static async Task<IReadOnlyList<Piece>> PiecesAsync(FleetDbContext db, Sample sample, CancellationToken cancel)
    {
        List<PieceFind> finds = await db.PieceFinds.Where(find => find.SampleId == sample.Id).ToListAsync(cancel);
        List<Taxon> taxa = await db.TaxaOf(sample, CountedAs.Pieces).ToListAsync(cancel);
        TaxonId[] others = [.. finds.Select(find => find.TaxonId).Where(id => taxa.TrueForAll(taxon => taxon.Id != id))];
        taxa.AddRange(await db.Taxa.Where(taxon => others.Contains(taxon.Id)).ToListAsync(cancel));
        return
        [
            .. taxa.Select(taxon => (taxon, find: finds.Find(find => find.TaxonId == taxon.Id))).Select(pair => new Piece(
                pair.taxon.Id.Value, pair.taxon.Name, pair.find?.IsPresent, pair.find?.Pieces, pair.find?.WeightG, pair.find?.IdentifiedBy ?? "",
                (pair.find?.Confidence ?? Confidence.Certain).ToString())),
        ];
    }

    private static async Task<IReadOnlyList<Sibling>> SiblingsAsync(FleetDbContext db, Sample sample, TankWater water, CancellationToken cancel)
    {
        DateTimeOffset from = water.Since + TankWater.SampledBefore ?? DateTimeOffset.MinValue;
        DateTimeOffset to = water.Until + TankWater.SampledBefore ?? DateTimeOffset.MaxValue;
        return (await db.Samples
            .Where(other => other.StationId == sample.StationId && other.Id != sample.Id && other.TakenAt > from && other.TakenAt <= to)
            .OrderBy(other => other.Code)
            .Select(other => new { other.Code, other.Kind, IsCounted = db.SampleAliquots.Any(aliquot => aliquot.SampleId == other.Id) })
            .ToListAsync(cancel)).ConvertAll(other => new Sibling(other.Code, other.Kind, other.IsCounted));
    }

    private static async Task<string> DirtyBlanksAsync(FleetDbContext db, Sample sample, CancellationToken cancel) => string.Join("; ", (await (
        from blank in db.Samples
        where blank.TakingKey == sample.TakingKey && blank.Kind == SampleKind.Blank
        join aliquot in db.SampleAliquots on blank.Id equals aliquot.SampleId
        join count in db.AliquotCounts on aliquot.Id equals count.AliquotId
        where count.Count > 0
        join taxon in db.Taxa on count.TaxonId equals taxon.Id
        select new { blank.Code, count.Count, taxon.Name, count.Stage }).ToListAsync(cancel))
        .Select(one => $"{one.Code} held {NumberWords.Figures(one.Count)} {SamplingWords.Named(one.Name, one.Stage)}"));

    private static string WaterWords(TankWater water, DateTimeOffset now, TimeZoneInfo zone, UnitSystem units)
    {
        string began = water.Since is { } since ? $"gathering since the pump-out {SpokenTime.At(since, now, zone)}" : "no pump-out before it is known";
        return water is { Until: { } until, CollectedLitres: { } litres }
            ? $"{began}; pumped out {SpokenTime.At(until, now, zone)}, {NumberWords.Brief(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}"
            : $"{began}; still in the tank";
    }

    private static string LeftWords(Sample sample, double? seenLitres, UnitSystem units)
    {
        return (sample.LeftLitres, seenLitres) switch
        {
            ({ } judged, { } seen) => $"{Volume(judged)} as judged at the tank, {Volume(seen)} by the sensor",
            ({ } judged, null) => $"{Volume(judged)} as judged at the tank",
            (null, { } seen) => $"{Volume(seen)} by the sensor",
            _ => "not known",
        };

        string Volume(double litres) => $"{NumberWords.Brief(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}";
    }
}
