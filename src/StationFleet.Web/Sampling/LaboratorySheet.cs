using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Reports.Tables;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Sampling;

/// <summary>The laboratory's spreadsheet: a row for each sample, aliquot, kind and stage; the count is empty until somebody counts it.</summary>
internal sealed class LaboratorySheet(IDbContextFactory<FleetDbContext> databases)
{
    public static IReadOnlyList<ReportColumn> Columns { get; } =
    [
        new("sample", "Sample", ColumnKind.Text, "", "The code on the jar."),
        new("aliquot", "Aliquot", ColumnKind.Count, "", "Which aliquot of this sample, from 1 on."),
        new("concentrate_ml", "Concentrate", ColumnKind.Number, "mL", "The volume to which the sample was concentrated, rinse included; empty: not concentrated."),
        new("examined_ml", "Looked through", ColumnKind.Number, "mL", "The volume of this aliquot."),
        new("scientific_name", "Scientific name", ColumnKind.Text, "", "As on the list of what is looked for."),
        new("stage", "Stage", ColumnKind.Text, "", "Empty where stages are not told apart."),
        new("count", "Count", ColumnKind.Count, "", "0: looked for, none; empty: not looked for."),
        new("identified_by", "Identified by", ColumnKind.Text, "", "A person."),
        new("confidence", "Confidence", ColumnKind.Text, "", "certain, probable or tentative."),
    ];

    private sealed record Counted(SampleId Sample, int Number, double ExaminedMl, string Name, LifeStage Stage, int Count, string IdentifiedBy, Confidence Confidence);

    /// <summary>Samples that wait for their count, with empty rows; and, when asked for, those counted since a day.</summary>
    public async Task<ReportTable> HandleAsync(Viewer viewer, DateTimeOffset? countedFrom, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IQueryable<Sample> microscopic = db.SamplesVisibleTo(viewer).Where(sample => sample.Kind != SampleKind.Pieces);
        List<Sample> waiting = await microscopic.Where(sample => !db.SampleAliquots.Any(aliquot => aliquot.SampleId == sample.Id))
            .OrderBy(sample => sample.TakenAt).ThenBy(sample => sample.Code).ToListAsync(cancel);
        List<Taxon> taxa = await db.Taxa.Where(taxon => !taxon.IsRetired && taxon.CountedAs == CountedAs.Aliquots).OrderBy(taxon => taxon.ScientificName).ToListAsync(cancel);
        Dictionary<StationId, AgencyId[]> agencies = await db.Stations.ToDictionaryAsync(
            station => station.Id, station => new[] { station.OwnerId, station.OperatorId }, cancel);
        List<IReadOnlyList<Cell>> rows =
        [
            .. from sample in waiting
               from taxon in taxa
               where agencies[sample.StationId].Contains(taxon.AgencyId)
               from stage in taxon.Stages
               select Row(sample, 1, null, taxon.ScientificName, stage, null, "", ""),
        ];
        if (countedFrom is { } from)
        {
            Dictionary<SampleId, Sample> counted = await microscopic.Where(sample => sample.TakenAt >= from).ToDictionaryAsync(sample => sample.Id, cancel);
            rows.AddRange((await CountedAsync(db, microscopic.Where(sample => sample.TakenAt >= from), cancel)).Select(one =>
                Row(counted[one.Sample], one.Number, one.ExaminedMl, one.Name, one.Stage, one.Count, one.IdentifiedBy, SamplingWords.Of(one.Confidence))));
        }

        return new ReportTable("laboratory", "Counts", Columns, rows);
    }

    private static Task<List<Counted>> CountedAsync(FleetDbContext db, IQueryable<Sample> samples, CancellationToken cancel) => (
        from count in db.AliquotCounts
        join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
        where aliquot.RecountOf == null && samples.Any(sample => sample.Id == aliquot.SampleId)
        join taxon in db.Taxa on count.TaxonId equals taxon.Id
        orderby aliquot.SampleId, aliquot.Number, taxon.ScientificName, count.Stage
        select new Counted(aliquot.SampleId, aliquot.Number, aliquot.ExaminedMl, taxon.ScientificName, count.Stage, count.Count, count.IdentifiedBy, count.Confidence))
        .ToListAsync(cancel);

    private static IReadOnlyList<Cell> Row(
        Sample sample, int aliquot, double? examinedMl, string name, LifeStage stage, int? count, string by, string confidence) =>
    [
        Cell.Of(sample.Code), Cell.Count(aliquot), Cell.OneDecimal(sample.ConcentrateMl), Cell.OneDecimal(examinedMl), Cell.Of(name), Cell.Of(SamplingWords.Of(stage)),
        Cell.Count(count), Cell.Of(by), Cell.Of(confidence),
    ];
}
