using StationFleet.Domain.Power;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Low charge, part «cold»: a discharged lead-acid battery near its freezing point, or a lithium iron phosphate battery that
/// is charged below 0 °C.
/// </summary>
public static class ColdBattery
{
    /// <summary>The part of the station that its problem is about.</summary>
    public const string Part = "cold";

    private const double ClearMarginC = 3;
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(2);

    /// <summary>What the cold asks of people: a frozen battery bursts, a charged cold one is spoilt; null for nothing.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery.</param>
    /// <param name="now">The instant of judging.</param>
    public static Urgency? Judge(StationFacts facts, PowerSetup power, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(power);
        if (power.IsLeadAcid)
        {
            return Margin(facts, power, now) <= 0 ? Urgency.NeedsVisit : null;
        }

        return BatteryC(facts, now) is { } cold && IsCharging(facts, power, now)
            ? cold < BatteryCold.LithiumLeastC ? Urgency.NeedsVisit : cold < BatteryCold.LithiumWarnC ? Urgency.DueSoon : null
            : null;
    }

    /// <summary>Whether the danger is over: warmer by some degrees, or not charged any more.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery.</param>
    /// <param name="now">The instant of judging.</param>
    public static bool IsClear(StationFacts facts, PowerSetup power, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(power);
        return power.IsLeadAcid
            ? Margin(facts, power, now) > ClearMarginC
            : BatteryC(facts, now) is { } cold && (cold >= BatteryCold.LithiumWarnC || !IsCharging(facts, power, now));
    }

    /// <summary>The numbers behind it; null when nothing is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="power">Its battery.</param>
    public static ColdBatteryEvidence? Evidence(StationFacts facts, PowerSetup power)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(power);
        return (facts.Power.BatteryC ?? (power.IsLeadAcid ? facts.Power.AirC : null)) is { } cold
            ? new ColdBatteryEvidence(
                power.Chemistry,
                cold.Value,
                facts.Power.BatteryC is null,
                facts.Charge?.Value,
                power.IsLeadAcid && facts.Charge is { } charge ? Math.Round(BatteryCold.FreezingPointC(charge.Value), 1) : null)
            : null;
    }

    // How far the battery is above the temperature at which it is alarmed [°C]; the air stands for the battery where nothing better is known.
    private static double? Margin(StationFacts facts, PowerSetup power, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        double? cold = BatteryC(facts, now) ?? (facts.Power.AirC is { } air && now - air.At < Fresh ? air.Value : null);
        return power.IsLeadAcid && facts.Charge is { } charge && now - charge.At < TimeSpan.FromDays(1)
            ? cold - BatteryCold.FreezingPointC(charge.Value) - BatteryCold.FreezingMarginC
            : null;
    }

    private static double? BatteryC(StationFacts facts, DateTimeOffset now) =>
        facts.Power.BatteryC is { } reading && now - reading.At < Fresh ? reading.Value : null;

    private static bool IsCharging(StationFacts facts, PowerSetup power, DateTimeOffset now) =>
        facts.Power.Amperes is { } amperes && now - amperes.At < Fresh && amperes.Value > BatteryCold.ChargingRate * power.CapacityAh;
}
