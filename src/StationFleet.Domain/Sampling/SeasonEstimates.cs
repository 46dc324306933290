using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>All removal estimates of many tanks and periods.</summary>
public static class SeasonEstimates
{
    /// <summary>An estimate for each period and each organism that was looked for in it.</summary>
    /// <param name="periods">Periods without <see cref="TankPeriod.Faults"/>, sampled or not, of one season or of several.</param>
    /// <param name="groupOf">
    /// The group that an organism is pooled with when patchiness is learnt: those that drift and clump alike. Null: each by itself.
    /// </param>
    /// <returns>In the order of the periods.</returns>
    /// <remarks>
    /// Patchiness is learnt together from all replicate grabs of the same year, group, mesh and preservation; from other meshes it is
    /// not. Replicates with a contaminated blank tell nothing.
    /// </remarks>
    public static IReadOnlyList<RemovalEstimate> Of(IEnumerable<TankPeriod> periods, Func<Organism, string>? groupOf = null)
    {
        (TankPeriod Period, Organism Organism, CountedGrabs Grabs)[] counted =
        [
            .. from period in periods
            from organism in period.LookedFor()
            let grabs = CountedGrabs.Of(period, organism)
            select (period, organism, grabs),
        ];
        Dictionary<Pool, Patchiness> pools = counted
            .GroupBy(one => PoolOf(one.Period, one.Organism, groupOf))
            .ToDictionary(pool => pool.Key, pool => Patchiness.From(pool.Where(one => !one.Period.IsContaminated(one.Organism)).Select(one => one.Grabs.Replicates)));
        return [.. counted.Select(one => RemovalEstimate.Of(one.Period, one.Organism, one.Grabs, pools[PoolOf(one.Period, one.Organism, groupOf)]))];
    }

    private static Pool PoolOf(TankPeriod period, Organism organism, Func<Organism, string>? groupOf) => new(
        period.Year, groupOf is null ? $"{organism.Taxon}/{organism.LifeStage}" : groupOf(organism), period.MeshMicrometres, period.Preservation);

    private readonly record struct Pool(int Year, string Group, double? MeshMicrometres, string? Preservation);
}
