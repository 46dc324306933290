using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Sampling;

/// <summary>One station's tank water, cut by its emptyings.</summary>
public sealed class TankWaters
{
    private const double ByPersonShare = 0.1;

    private readonly IReadOnlyList<CountedPumpOut> _emptyings;
    private readonly IReadOnlyDictionary<DateTimeOffset, (double Before, double Left)> _seen;

    private TankWaters(IReadOnlyList<CountedPumpOut> emptyings, IReadOnlyDictionary<DateTimeOffset, (double Before, double Left)> seen) =>
        (_emptyings, _seen) = (emptyings, seen);

    /// <summary>Reads a station's emptyings.</summary>
    /// <param name="db">The database.</param>
    /// <param name="station">The station.</param>
    /// <param name="withUncertainty">Whether the volumes' uncertainty is needed: that asks for more.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<TankWaters> ReadAsync(FleetDbContext db, StationId station, bool withUncertainty, CancellationToken cancel)
    {
        TankHistory tank = await db.TankHistoryAsync(station, cancel);
        IReadOnlyList<TankDip> dips = withUncertainty ? await db.TankDipsAsync(station, tank, cancel) : [];
        List<PumpOut> rows = await db.PumpOuts.AsNoTracking().Where(pumpOut => pumpOut.StationId == station).ToListAsync(cancel);
        Dictionary<DateTimeOffset, (double, double)> seen = [];
        foreach (PumpOut pumpOut in rows)
        {
            if (pumpOut.Readings is { } readings && tank.Read(readings.Before) is { } before && tank.Read(readings.After) is { } after)
            {
                seen[pumpOut.At] = (before.Litres, after.Litres);
            }
        }

        return new TankWaters(PumpOuts.Count(rows.Select(row => row.ToRecord(tank, dips))), seen);
    }

    /// <summary>Every water that an emptying ended, oldest first, and the present one.</summary>
    public IEnumerable<TankWater> All => _emptyings
        .Select((emptying, i) => new TankWater(i == 0 ? null : _emptyings[i - 1].At, emptying.At, emptying.Litres))
        .Append(new TankWater(_emptyings.Count == 0 ? null : _emptyings[^1].At, null, null));

    /// <summary>The water that a sample stands for.</summary>
    public TankWater At(DateTimeOffset sampledAt) => TankWater.Of(sampledAt, _emptyings);

    /// <summary>What the sensor saw left in the tank when this water began [L]; null when it did not see.</summary>
    public double? LeftLitres(TankWater water) => water.Since is { } since && _seen.TryGetValue(since, out (double Before, double Left) seen) ? seen.Left : null;

    /// <summary>What came in between two emptyings; null while the water is in the tank, or when the level has not risen.</summary>
    /// <param name="water">The water.</param>
    /// <param name="judgedLeftLitres">What a person judged to be left when it began [L]; null when nobody did.</param>
    /// <remarks>By the sensor's levels where it saw both emptyings; else what a person wrote down, with a tenth as its standard uncertainty (our choice, no source).</remarks>
    public CollectedWater? Collected(TankWater water, double? judgedLeftLitres)
    {
        if (_emptyings.FirstOrDefault(emptying => emptying.At == water.Until) is not { Litres: > 0 } end)
        {
            return null;
        }

        double? left = judgedLeftLitres ?? LeftLitres(water);
        double sd = end.UncertaintyLitres ?? (ByPersonShare * end.Litres);
        return _seen.TryGetValue(end.At, out (double Before, double Left) seen) && left is { } was && end.UncertaintyLitres is not null
            ? CollectedWater.Between(was, seen.Before, sd)
            : new CollectedWater(end.Litres, sd, left ?? 0);
    }
}
