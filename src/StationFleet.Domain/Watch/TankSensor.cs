using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Tank sensor: what the sensor says can't be what is in the tank.</summary>
/// <remarks>
/// It stands still while the tools that fill the tank are used; it jumps to other levels and back; or the level creeps at night, when
/// nobody uses anything: a leak, a siphon, or a sensor that drifts. The dip of a person is <see cref="TankDipMismatch"/>.
/// </remarks>
public static class TankSensor
{
    /// <summary>The part of the station for a sensor that stands still.</summary>
    public const string Still = "still";

    /// <summary>…that jumps.</summary>
    public const string Jumping = "jumping";

    /// <summary>…for a level that creeps.</summary>
    public const string Creeping = "creeping";

    /// <summary>All parts that readings show.</summary>
    public static IReadOnlyList<string> Parts { get; } = [Still, Jumping, Creeping];

    /// <summary>So much should have come in while it stood still [L]: 3 US gallons.</summary>
    public const double LitresMissed = 3 * Units.LitresPerUsGallon;

    /// <summary>So many jumps come on…</summary>
    public const double JumpsOn = 6;

    /// <summary>So many uses must have been learned, to know what one adds.</summary>
    internal const double LeastUses = 10;

    private const double JumpsOff = 2;
    private const double CreepOn = 7;
    private const double CreepOff = 1;

    /// <summary>A tank so full, as a share of capacity, cannot rise: its sensor may well stand still.</summary>
    private const double CannotRise = 0.97;

    private static readonly TimeSpan LeastSame = TimeSpan.FromHours(1);
    private static readonly TimeSpan LeastFlat = TimeSpan.FromHours(24);

    /// <summary>Whether a part is wrong.</summary>
    /// <param name="part">One of <see cref="Parts"/>.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="tank">The tank.</param>
    /// <param name="now">The present.</param>
    public static bool IsOn(string part, StationFacts facts, TankSetup tank, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(tank);
        TankSensorFacts sensor = facts.Tank.Sensor;
        return part switch
        {
            Still => sensor.Uses >= LeastUses && facts.Tank is { Last: { } last, Level: { Share: < CannotRise } }
                && ((sensor.IsSameTooOften && last.At - sensor.SameSince >= LeastSame && Missed(sensor.UsesSinceSame) >= LitresMissed)
                    || (last.At - sensor.FlatSince >= LeastFlat && last.At - sensor.LastUse >= LevelWindow.Length && Missed(sensor.FlatUses) >= Math.Max(5 * LitresMissed, 8 * sensor.FlatWithin * tank.CapacityLitres))),
            Jumping => sensor.JumpsBy(now) > JumpsOn,
            _ => Math.Max(sensor.Loss, sensor.Gain) >= CreepOn,
        };

        double Missed(double uses) => uses * sensor.LitresPerUse(tank.CapacityLitres);
    }

    /// <summary>Whether a part is right again.</summary>
    /// <param name="part">One of <see cref="Parts"/>.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="tank">The tank.</param>
    /// <param name="now">The present.</param>
    public static bool IsClear(string part, StationFacts facts, TankSetup tank, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        TankSensorFacts sensor = facts.Tank.Sensor;
        return part switch
        {
            Still => !IsOn(Still, facts, tank, now),
            Jumping => sensor.JumpsBy(now) < JumpsOff,
            _ => Math.Max(sensor.Loss, sensor.Gain) < CreepOff,
        };
    }

    /// <summary>The numbers behind a judgement; null when there is nothing to tell.</summary>
    /// <param name="part">One of <see cref="Parts"/>.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="tank">The tank.</param>
    /// <param name="now">The present.</param>
    public static Evidence? Evidence(string part, StationFacts facts, TankSetup tank, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(tank);
        TankSensorFacts sensor = facts.Tank.Sensor;
        if (facts.Tank.Level is not { } level)
        {
            return null;
        }

        bool isSame = sensor.UsesSinceSame > 0 && sensor.IsSameTooOften;
        return part switch
        {
            Still => new TankStillEvidence(
                (isSame ? sensor.SameSince : sensor.FlatSince) ?? now,
                level.Share * tank.CapacityLitres,
                sensor.LitresPerUse(tank.CapacityLitres) * (isSame ? sensor.UsesSinceSame : sensor.FlatUses)),
            Jumping => new TankJumpingEvidence(Math.Max(1, (int)Math.Round(sensor.JumpsBy(now))), sensor.JumpsAt ?? now),
            _ => sensor.CreepHours > 0
                ? new TankCreepEvidence(sensor.CreepShare / sensor.CreepHours * 24 * tank.CapacityLitres, sensor.CreepNights)
                : null,
        };
    }
}
