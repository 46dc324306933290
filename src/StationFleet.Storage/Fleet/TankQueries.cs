using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Fleet;

/// <summary>Stations' tanks with their calibrations, and what people's sticks said beside their sensors.</summary>
public static class TankQueries
{
    // Without a fall that the sensor saw, its readings of the hours before the visit stand for what it said before the emptying.
    private static readonly TimeSpan LookBack = TimeSpan.FromHours(3);
    private static readonly TimeSpan VisitTakes = TimeSpan.FromMinutes(45);

    /// <summary>One station's tanks and calibrations.</summary>
    public static async Task<TankHistory> TankHistoryAsync(this FleetDbContext db, StationId station, CancellationToken cancel) => new(
        [.. (await db.StationTanks.AsNoTracking().Where(tank => tank.StationId == station).ToListAsync(cancel)).Select(Dated)],
        [.. (await db.StationCalibrations.AsNoTracking().Where(row => row.StationId == station).ToListAsync(cancel)).Select(row => row.ToCalibration())]);

    /// <summary>The tanks and calibrations of every station that has one.</summary>
    public static async Task<IReadOnlyDictionary<StationId, TankHistory>> TankHistoriesAsync(this FleetDbContext db, CancellationToken cancel)
    {
        ILookup<StationId, StationCalibration> calibrations = (await db.StationCalibrations.AsNoTracking().ToListAsync(cancel))
            .ToLookup(row => row.StationId);
        return (await db.StationTanks.AsNoTracking().ToListAsync(cancel))
            .GroupBy(tank => tank.StationId)
            .ToDictionary(tanks => tanks.Key, tanks => new TankHistory(
                [.. tanks.Select(Dated)], [.. calibrations[tanks.Key].Select(row => row.ToCalibration())]));
    }

    /// <summary>A station's dips beside what its sensor said before the same emptying, oldest first; without those that have no such reading yet.</summary>
    public static async Task<IReadOnlyList<TankDip>> TankDipsAsync(this FleetDbContext db, StationId station, TankHistory tank, CancellationToken cancel)
    {
        List<PumpOut> dipped = await db.PumpOuts.AsNoTracking()
            .Where(pumpOut => pumpOut.StationId == station && (pumpOut.DipLitres != null || pumpOut.DipLevelM != null))
            .OrderBy(pumpOut => pumpOut.At).ToListAsync(cancel);
        List<TankDip> dips = [];
        foreach (PumpOut pumpOut in dipped)
        {
            TankReading? sensor = await BeforeFallAsync(db, station, pumpOut.At, cancel) ?? await BeforeVisitAsync(db, station, tank, pumpOut.At, cancel);
            if (sensor is not null && TankDip.Of(tank, pumpOut.At, pumpOut.Dip!, sensor) is { } dip)
            {
                dips.Add(dip);
            }
        }

        return dips;
    }

    private static DatedTank Dated(StationTank tank) => new(tank.From, tank.ToSetup());

    private static async Task<TankReading?> BeforeFallAsync(FleetDbContext db, StationId station, DateTimeOffset at, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = (at - PumpOuts.SameWithin, at + PumpOuts.SameWithin);
        List<PumpOut> seen = await db.PumpOuts.AsNoTracking()
            .Where(pumpOut => pumpOut.StationId == station && pumpOut.Source == PumpOutSource.Telemetry && pumpOut.At >= from && pumpOut.At <= to)
            .ToListAsync(cancel);
        return seen.MinBy(pumpOut => (pumpOut.At - at).Duration())?.Readings?.Before;
    }

    private static async Task<TankReading?> BeforeVisitAsync(
        FleetDbContext db, StationId station, TankHistory tank, DateTimeOffset at, CancellationToken cancel)
    {
        long from = (at - LookBack).ToUnixTimeMilliseconds();
        long to = (at - VisitTakes).ToUnixTimeMilliseconds();
        List<Said> rows = await db.Database.SqlQuery<Said>(
            $"""
            SELECT s.name AS Name, m.at AS At, m.value AS Value FROM series s CROSS JOIN measurements m ON m.series_id = s.id
            WHERE s.station_id = {station.Value} AND s.name IN ('tank/fill', 'tank/level', 'tank/distance', 'air/temperature')
            AND m.at > {from} AND m.at <= {to}
            """).ToListAsync(cancel);
        Measurement[] said = [.. rows.Select(row => new Measurement(row.Name, DateTimeOffset.FromUnixTimeMilliseconds(row.At), row.Value))];
        Measurement[] air = [.. said.Where(one => one.Name == MeasurementName.AirTemperature).OrderBy(one => one.At).TakeLast(1)];
        (TankReading Reading, TankAmount Amount)[] amounts =
        [
            .. said.Where(one => one.Name != MeasurementName.AirTemperature)
                .GroupBy(one => one.At).Select(instant => tank.ReadBest([.. instant, .. air])).OfType<(TankReading, TankAmount)>(),
        ];

        // The middle one: a single false echo decides nothing.
        return amounts.Length == 0 ? null : amounts.OrderBy(amount => amount.Amount.Litres).ElementAt((amounts.Length - 1) / 2).Reading;
    }

    private sealed record Said(string Name, long At, double Value);
}
