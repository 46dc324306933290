using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Sampling;

/// <summary>What each agency looks for, and from which waters it is known.</summary>
public sealed class ListTaxa(IDbContextFactory<FleetDbContext> databases)
{
    public sealed record Known(int Id, string Water, DateOnly Since, string Basis);

    public sealed record Row(
        int Id, int Agency, string Name, string ScientificName, string Rank, string Kingdom, CountedAs CountedAs, IReadOnlyList<LifeStage> Stages, string Key,
        bool IsRetired, IReadOnlyList<Known> KnownFrom);

    /// <param name="Contact">Whom its reporting rules want told of a new find.</param>
    /// <param name="Hours">Within how many hours.</param>
    public sealed record Body(int Id, string Name, string? Contact, int? Hours, bool MayChange);

    public sealed record View(IReadOnlyList<Row> Rows, IReadOnlyList<Body> Agencies, IReadOnlyList<string> Waters, bool MayChange);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        List<Taxon> taxa = await db.Taxa.OrderBy(taxon => taxon.IsRetired).ThenBy(taxon => taxon.Name).ToListAsync(cancel);
        ILookup<TaxonId, KnownTaxon> known = (await db.KnownTaxa.OrderBy(row => row.Water).ToListAsync(cancel)).ToLookup(row => row.TaxonId);
        return new View(
            [
                .. taxa.Select(taxon => new Row(
                    taxon.Id.Value, taxon.AgencyId.Value, taxon.Name, taxon.ScientificName, taxon.Rank, taxon.Kingdom, taxon.CountedAs, taxon.Stages, taxon.Key,
                    taxon.IsRetired, [.. known[taxon.Id].Select(row => new Known(row.Id, row.Water, row.Since, row.Basis))])),
            ],
            [
                .. (await db.Agencies.OrderBy(agency => agency.Name).ToListAsync(cancel))
                    .Select(agency => new Body(agency.Id.Value, agency.Name, agency.FindContact, agency.FindHours, MayChange(viewer, agency.Id))),
            ],
            await db.Accesses.Select(access => access.Water).Distinct().OrderBy(water => water).ToListAsync(cancel),
            viewer.MayChangeFleet());
    }

    /// <summary>An agency's list is its own people's, and of those who see all.</summary>
    internal static bool MayChange(Viewer viewer, AgencyId agency) => viewer.MayChangeFleet() && (viewer.Agency is null || viewer.Agency == agency);
}
