using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Tank sensor, part «dip»: what a person measured with a stick is not what the sensor said.</summary>
/// <remarks>
/// It stays on until a later dip agrees, until somebody has seen to its ticket, or until the sensor is calibrated or the tank set up
/// anew from after that dip. A dip corrects nothing by itself: either may be wrong.
/// </remarks>
public static class TankDipMismatch
{
    /// <summary>The part of the station that its problem is about.</summary>
    public const string Part = "dip";

    /// <summary>How far apart dip and sensor may be, as a share of capacity (common practice, no source).</summary>
    public const double LimitShare = 0.05;

    /// <summary>The dip that counts now: the newest, unless it was seen to or the tank or its calibration changed since; else null.</summary>
    /// <param name="setup">The station.</param>
    /// <param name="from">Earlier dips don't count: the end of the last quiet period, or when the watch began.</param>
    /// <param name="now">The present.</param>
    public static TankDip? Newest(StationSetup setup, DateTimeOffset from, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(setup);
        TankDip? dip = setup.Dips.Where(dip => dip.At <= now).MaxBy(dip => dip.At);
        bool isSeenTo = setup.Service.Findings.Any(finding => finding is { Rule: Rule.TankSensor, Part: Part } && dip?.At < finding.At && finding.At <= now);
        return dip?.At >= from && dip.At >= setup.Tank.SameSince(now) && !isSeenTo ? dip : null;
    }

    /// <summary>Whether a dip and the sensor are too far apart.</summary>
    /// <param name="dip">The dip; null is not.</param>
    public static bool IsApart(TankDip? dip) => Math.Abs(dip?.Difference ?? 0) > LimitShare;
}
