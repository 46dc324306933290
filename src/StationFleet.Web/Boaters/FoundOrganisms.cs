using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;

namespace StationFleet.Web.Boaters;

/// <summary>Which organisms the tank's water held at an access this season, as far as the agency released them.</summary>
internal static class FoundOrganisms
{
    private sealed record Present(TaxonId Taxon, DateTimeOffset TakenAt);

    public static async Task<string?> SentenceAsync(FleetDbContext db, Access access, Season season, CancellationToken cancel)
    {
        DateTimeOffset from = LocalCalendar.StartOf(season.FirstDay, access.Zone);
        DateTimeOffset to = LocalCalendar.StartOf(season.LastDay.AddDays(1), access.Zone);
        IQueryable<Sample> samples = db.Samples.AsNoTracking().Where(sample =>
            sample.AccessId == access.Id && sample.Kind != SampleKind.Blank && sample.TakenAt >= from && sample.TakenAt < to);
        List<Present> present = await samples
            .Join(db.SampleAliquots, sample => sample.Id, aliquot => aliquot.SampleId, (sample, aliquot) => new { sample.TakenAt, aliquot.Id })
            .Join(db.AliquotCounts.Where(count => count.Count > 0), aliquot => aliquot.Id, count => count.AliquotId, (aliquot, count) => new { count.TaxonId, aliquot.TakenAt })
            .Distinct().Select(row => new Present(row.TaxonId, row.TakenAt)).ToListAsync(cancel);
        present.AddRange(await samples
            .Join(db.PieceFinds.Where(find => find.IsPresent), sample => sample.Id, find => find.SampleId, (sample, find) => new Present(find.TaxonId, sample.TakenAt))
            .ToListAsync(cancel));
        ReleasedOrganisms released = await ReleasedOrganisms.ReadAsync(db, cancel);
        TaxonId[] told =
        [
            .. present.Where(one => released.MayTellPresence(one.Taxon, access.Water, LocalCalendar.DateOf(one.TakenAt, access.Zone)))
                .Select(one => one.Taxon).Distinct(),
        ];
        if (told.Length == 0)
        {
            return null;
        }

        List<string> names = await db.Taxa.Where(taxon => told.Contains(taxon.Id)).OrderBy(taxon => taxon.Name).Select(taxon => taxon.Name).ToListAsync(cancel);
        return $"Found in the station's tank water this season: {string.Join(", ", names)}. Known in {access.Water}; which boat carried it is not known.";
    }
}
