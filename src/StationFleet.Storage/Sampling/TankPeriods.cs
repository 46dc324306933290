using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Sampling;

/// <summary>Makes chains of stored samples and pump-outs, as the estimates take them.</summary>
public static class TankPeriods
{
    /// <summary>What was sampled so many days before a time may be of a water that ends in it [d].</summary>
    public const int DaysBefore = 120;

    private sealed record Counted(SampleId Sample, int Aliquot, double ExaminedMl, string Name, LifeStage Stage, int Count);

    /// <summary>All periods of stations that ended in a stretch of time, or are going on at its end; sampled or not.</summary>
    public static async Task<IReadOnlyList<PlacedPeriod>> TankPeriodsAsync(
        this FleetDbContext db, IReadOnlyCollection<StationId> stations, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        Dictionary<StationId, string> codes = await db.Stations.Where(station => stations.Contains(station.Id)).ToDictionaryAsync(station => station.Id, station => station.Code, cancel);
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        List<Placement> placements = await db.Placements.AsNoTracking().Where(placement => stations.Contains(placement.StationId)).ToListAsync(cancel);

        ILookup<StationId, DateTimeOffset> backFromWinter = (await db.WinterStorages.Where(winter => stations.Contains(winter.StationId) && winter.To != null)
            .Select(winter => new { winter.StationId, winter.To }).ToListAsync(cancel)).ToLookup(winter => winter.StationId, winter => winter.To!.Value);

        DateTimeOffset early = from.AddDays(-DaysBefore);
        IQueryable<Sample> some = db.Samples.Where(sample => stations.Contains(sample.StationId) && sample.Kind != SampleKind.Pieces && sample.TakenAt >= early && sample.TakenAt < to);
        List<Sample> samples = await some.AsNoTracking().OrderBy(sample => sample.Code).ToListAsync(cancel);
        ILookup<SampleId, Counted> counts = (await (
            from count in db.AliquotCounts
            join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
            where aliquot.RecountOf == null && some.Any(sample => sample.Id == aliquot.SampleId)
            join taxon in db.Taxa on count.TaxonId equals taxon.Id
            orderby aliquot.Number, taxon.Name, count.Stage
            select new Counted(aliquot.SampleId, aliquot.Number, aliquot.ExaminedMl, taxon.Name, count.Stage, count.Count)).ToListAsync(cancel)).ToLookup(one => one.Sample);
        List<PlacedPeriod> periods = [];
        foreach (StationId station in stations)
        {
            TankWaters waters = await TankWaters.ReadAsync(db, station, withUncertainty: true, cancel);
            ILookup<TankWater, Sample> taken = samples.Where(sample => sample.StationId == station).ToLookup(sample => waters.At(sample.TakenAt));
            foreach (TankWater water in waters.All.Where(water => (water.Until ?? to) >= from && (water.Until ?? to) <= to))
            {
                DateTimeOffset end = water.Until ?? to;
                Access? access = placements.Where(placement => placement.StationId == station && placement.From <= end && !(placement.To <= end))
                    .Select(placement => accesses[placement.AccessId]).FirstOrDefault();

                // Nothing flows in while a station is laid up.
                DateTimeOffset? begun = backFromWinter[station].Where(back => back > water.Since && back < end).Select(back => (DateTimeOffset?)back).Max() ?? water.Since;
                periods.Add(Of(codes[station], waters, water, begun, end, access, [.. taken[water]], counts));
            }
        }

        return [.. periods.OrderBy(period => period.Period.To).ThenBy(period => period.Period.Station, StringComparer.Ordinal)];
    }

    private static PlacedPeriod Of(
        string station, TankWaters waters, TankWater water, DateTimeOffset? begun, DateTimeOffset end, Access? access, IReadOnlyList<Sample> taken, ILookup<SampleId, Counted> counts)
    {
        TimeZoneInfo zone = access?.Zone ?? TimeZoneInfo.Utc;
        DateOnly to = LocalCalendar.DateOf(end, zone);
        DateOnly from = begun is { } since ? LocalCalendar.DateOf(since, zone) : taken.Count > 0 ? LocalCalendar.DateOf(taken.Min(sample => sample.TakenAt), zone) : to;

        // Grabs poured through different meshes are not replicates: the mesh of most speaks.
        Sample[] grabs = taken.Where(sample => sample.Kind == SampleKind.Grab && sample.Litres > 0 && counts[sample.Id].Any())
            .GroupBy(sample => sample.MeshUm).OrderByDescending(mesh => mesh.Count()).FirstOrDefault()?.ToArray() ?? [];
        string[] takings = [.. grabs.Select(grab => grab.TakingKey).Distinct()];
        TankPeriod period = new(
            $"{station} {to:yyyy-MM-dd}", station, from, to,
            waters.Collected(water, taken.Select(sample => sample.LeftLitres).FirstOrDefault(left => left is not null)),
            [.. grabs.Select(grab => new Grab(grab.Code, grab.Litres!.Value, grab.ConcentrateMl ?? (grab.Litres.Value * 1000), Aliquots(counts[grab.Id])))],
            [
                .. taken.Where(sample => sample.Kind == SampleKind.Blank && takings.Contains(sample.TakingKey))
                    .Select(blank => new Blank(blank.Code, Summed(counts[blank.Id]))),
            ])
        {
            MeshMicrometres = grabs.Length > 0 ? grabs[0].MeshUm : null,
            Preservation = grabs.Length > 0 ? grabs[0].Preservation.ToString() : null,
        };
        return new PlacedPeriod(period, water, access?.Water, [.. grabs.Select(grab => grab.Code)]);
    }

    private static IReadOnlyList<Aliquot> Aliquots(IEnumerable<Counted> counts) =>
        [.. counts.GroupBy(one => (one.Aliquot, one.ExaminedMl)).Select(aliquot => new Aliquot(aliquot.Key.ExaminedMl, Summed(aliquot)))];

    private static IReadOnlyList<OrganismCount> Summed(IEnumerable<Counted> counts) =>
        [.. counts.GroupBy(one => (one.Name, one.Stage)).Select(one => new OrganismCount(one.Key.Name, one.Sum(count => count.Count), StageOf(one.Key.Stage)))];

    /// <summary>The stage as estimates name it.</summary>
    public static string? StageOf(LifeStage stage) => stage == LifeStage.Any ? null : SamplingWords.Of(stage);
}
