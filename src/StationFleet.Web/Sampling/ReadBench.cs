using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Sampling;

/// <summary>What the bench form of one sample shows.</summary>
internal sealed class ReadBench(IDbContextFactory<FleetDbContext> databases)
{
    /// <param name="Key">The key that counts it; upper case with Shift.</param>
    internal sealed record Line(TaxonId Taxon, LifeStage Stage, string Name, string ScientificName, string Key);

    internal sealed record Earlier(int Id, int Number, double ExaminedMl, string CountedBy);

    /// <param name="SavedKeys">Forms that are saved: a browser may let go of what it kept of them.</param>
    internal sealed record View(
        string Code, SampleKind Kind, double Litres, double? ConcentrateMl, IReadOnlyList<Line> Lines, IReadOnlyList<Earlier> Earlier,
        IReadOnlyList<string> SavedKeys, int Grabs, bool MayCount);

    public async Task<View?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        Sample? sample = await db.SamplesVisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code && row.Kind != SampleKind.Pieces, cancel);
        if (sample is null)
        {
            return null;
        }

        List<Taxon> taxa = await db.TaxaOf(sample, CountedAs.Aliquots).ToListAsync(cancel);
        List<SampleAliquot> aliquots = await db.SampleAliquots.Where(aliquot => aliquot.SampleId == sample.Id).OrderBy(aliquot => aliquot.Number).ToListAsync(cancel);
        return new View(
            sample.Code, sample.Kind, sample.Litres ?? 0, sample.ConcentrateMl,
            [.. taxa.SelectMany(taxon => taxon.Stages.Select((stage, index) => new Line(
                taxon.Id, stage, SamplingWords.Named(taxon.Name, stage), taxon.ScientificName,
                index switch { 0 => taxon.Key, 1 => taxon.Key.ToUpperInvariant(), _ => "" })))],
            [.. aliquots.Where(aliquot => aliquot.RecountOf is null).Select(aliquot => new Earlier(aliquot.Id, aliquot.Number, aliquot.ExaminedMl, aliquot.CountedBy))],
            [.. aliquots.Select(aliquot => aliquot.IdempotencyKey)],
            await db.Samples.CountAsync(other => other.TakingKey == sample.TakingKey && other.Kind == SampleKind.Grab, cancel),
            viewer.MaySample());
    }
}
