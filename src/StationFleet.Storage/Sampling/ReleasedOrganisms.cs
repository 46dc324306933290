using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Sampling;

/// <summary>
/// The one gate through which organisms become public: a taxon may be told of a water when it is known from there, which a find
/// becomes when the agency releases it. Whatever shows organisms to the public asks here.
/// </summary>
public sealed class ReleasedOrganisms
{
    private readonly Dictionary<(TaxonId, string), DateOnly> _known;
    private readonly HashSet<(TaxonId, string)> _open;

    private ReleasedOrganisms(Dictionary<(TaxonId, string), DateOnly> known, HashSet<(TaxonId, string)> open) => (_known, _open) = (known, open);

    /// <summary>Reads what is known and what is open now.</summary>
    public static async Task<ReleasedOrganisms> ReadAsync(FleetDbContext db, CancellationToken cancel) => new(
        await db.KnownTaxa.AsNoTracking().ToDictionaryAsync(known => (known.TaxonId, known.Water), known => known.Since, cancel),
        [
            .. (await db.NewFinds.AsNoTracking().Where(find => find.State == FindState.Presumptive || find.State == FindState.Confirmed)
                .Select(find => new { find.TaxonId, find.Water }).ToListAsync(cancel)).Select(find => (find.TaxonId, find.Water)),
        ]);

    /// <summary>Whether a presence may be told.</summary>
    /// <param name="taxon">The taxon.</param>
    /// <param name="water">The water beside the station; null in transit: then nothing is known from it.</param>
    /// <param name="day">The local day of the sample.</param>
    public bool MayTellPresence(TaxonId taxon, string? water, DateOnly day) =>
        water is not null && !_open.Contains((taxon, water)) && _known.TryGetValue((taxon, water), out DateOnly since) && since <= day;

    /// <summary>Whether may be told that it was looked for and not found: while a find is open, silence about it is whole.</summary>
    public bool MayTellAbsence(TaxonId taxon, string? water) => !_open.Contains((taxon, water ?? NewFind.NoWater));
}
