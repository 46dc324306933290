using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Sampling;

/// <summary>One station's tank water, cut by its emptyings.</summary>
internal sealed class TankWaters
{
    private readonly IReadOnlyList<CountedPumpOut> _emptyings;
    private readonly IReadOnlyDictionary<DateTimeOffset, double> _leftLitres;

    private TankWaters(IReadOnlyList<CountedPumpOut> emptyings, IReadOnlyDictionary<DateTimeOffset, double> leftLitres) =>
        (_emptyings, _leftLitres) = (emptyings, leftLitres);

    public static async Task<TankWaters> ReadAsync(FleetDbContext db, StationId station, CancellationToken cancel)
    {
        TankHistory tank = await db.TankHistoryAsync(station, cancel);
        IReadOnlyList<TankDip> dips = await db.TankDipsAsync(station, tank, cancel);
        List<PumpOut> rows = await db.PumpOuts.AsNoTracking().Where(pumpOut => pumpOut.StationId == station).ToListAsync(cancel);
        Dictionary<DateTimeOffset, double> left = [];
        foreach (PumpOut seen in rows)
        {
            if (seen.Readings is { } readings && tank.Read(readings.After) is { } after)
            {
                left[seen.At] = after.Litres;
            }
        }

        return new TankWaters(PumpOuts.Count(rows.Select(row => row.ToRecord(tank, dips))), left);
    }

    /// <summary>The water that a sample stands for.</summary>
    public TankWater At(DateTimeOffset sampledAt) => TankWater.Of(sampledAt, _emptyings);

    /// <summary>What the sensor saw left in the tank when this water began [L]; null when it did not see.</summary>
    public double? LeftLitres(TankWater water) => water.Since is { } since && _leftLitres.TryGetValue(since, out double litres) ? litres : null;

    /// <summary>The emptying that ended the water, with its uncertainty; null while it is in the tank.</summary>
    public CountedPumpOut? EndOf(TankWater water) => _emptyings.FirstOrDefault(emptying => emptying.At == water.Until);
}
