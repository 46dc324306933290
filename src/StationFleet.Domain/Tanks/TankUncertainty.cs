using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Tanks;

/// <summary>How far a volume that a tank's sensor says may be off.</summary>
/// <remarks>
/// Standard uncertainty as a share of capacity: u = max(s, √(Σ d² / n)), with s the sensor's own by its data sheet and d the
/// differences between sensor and dip, as shares of capacity, at the last n ≤ 10 pump-outs since the tank or the sensor's calibration
/// last changed. Differences from dips stand for the sensor's whole error (a type A evaluation in the words of JCGM 100:2008, GUM);
/// that the larger of the two counts, and ten dips, are definitions of this program.
/// </remarks>
public static class TankUncertainty
{
    /// <summary>How many dips count at most.</summary>
    public const int MostDips = 10;

    /// <summary>The standard uncertainty of a volume at an instant [L]; null when there was no tank.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <param name="dips">All compared dips, in any order.</param>
    /// <param name="at">The instant; dips of later pump-outs don't count.</param>
    public static double? LitresAt(TankHistory tank, IEnumerable<TankDip> dips, DateTimeOffset at) =>
        At(tank, dips, at) * tank.At(at)?.CapacityLitres;

    /// <summary>The standard uncertainty at an instant, as a share of capacity; null when there was no tank.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <param name="dips">All compared dips, in any order.</param>
    /// <param name="at">The instant; dips of later pump-outs don't count.</param>
    public static double? At(TankHistory tank, IEnumerable<TankDip> dips, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(tank);
        if (tank.At(at) is not { } setup)
        {
            return null;
        }

        double[] squares =
        [
            .. Counted(tank, dips, at).OrderByDescending(dip => dip.At)
                .Take(MostDips).Select(dip => dip.Difference * dip.Difference),
        ];
        return squares.Length == 0 ? setup.SensorUncertainty : Math.Max(setup.SensorUncertainty, Math.Sqrt(squares.Average()));
    }

    /// <summary>The dips that speak for a volume at an instant: those since the tank or its calibration last changed.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <param name="dips">All compared dips, in any order.</param>
    /// <param name="at">The instant; a dip is written down within hours after the emptying that it belongs to.</param>
    public static IEnumerable<TankDip> Counted(TankHistory tank, IEnumerable<TankDip> dips, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(tank);
        DateTimeOffset? since = tank.SameSince(at);
        return dips.Where(dip => since <= dip.At && dip.At <= at + PumpOuts.SameWithin);
    }
}
