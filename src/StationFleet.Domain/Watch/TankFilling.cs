using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Tank filling: the waste tank will be full before somebody who is told now gets there.</summary>
/// <remarks>
/// The limit is worked backwards from the response time: a ticket when the chance that the tank is full within it reaches 15 % and the
/// tank is 55 % full, or the chance is one half; and from the limit of its fill on whatever is forecast. Due soon when the chance of
/// 15 % is reached within the days of notice.
/// </remarks>
public static class TankFilling
{
    /// <summary>The chance from which on a full tank counts: one in seven or so, tuned on simulated seasons.</summary>
    public const double EarlyChance = 0.15;

    /// <summary>
    /// How far under its limit the fill must fall before the problem clears, as a share of capacity: 5 %, the dead-band commonly
    /// quoted for levels (secondary sources to ISA-18.2).
    /// </summary>
    public const double DeadBand = 0.05;

    /// <summary>From this fill on, as a share of capacity, an emptying is worth a drive for a mere chance.</summary>
    private const double WorthTheDrive = 0.55;

    private const double LikelyChance = 0.50;
    private const int LeastReadings = 3;

    /// <summary>Whether the readings since a quiet period say enough.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="from">Earlier readings don't count: the end of the last quiet period, or null.</param>
    public static bool IsKnown(StationFacts facts, DateTimeOffset? from)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Tank.Window.CountFrom(from) >= LeastReadings;
    }

    /// <summary>Whether somebody has to go now.</summary>
    /// <param name="fillShare">The level, as a share of capacity.</param>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="rules">The station's limits.</param>
    /// <param name="now">The present.</param>
    public static bool NeedsVisit(double fillShare, TankForecast? forecast, RuleSettings rules, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rules);
        double chance = forecast?.ChanceBy(now.AddHours(rules.TankResponseHours)) ?? 0;
        return fillShare >= rules.TankRaiseShare || chance >= LikelyChance || (chance >= EarlyChance && fillShare >= WorthTheDrive);
    }

    /// <summary>Whether nobody has to go any more.</summary>
    /// <param name="fillShare">The level, as a share of capacity.</param>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="rules">The station's limits.</param>
    /// <param name="now">The present.</param>
    public static bool NeedsNoVisit(double fillShare, TankForecast? forecast, RuleSettings rules, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rules);
        double chance = forecast?.ChanceBy(now.AddHours(rules.TankResponseHours)) ?? 0;
        return fillShare < rules.TankRaiseShare - DeadBand
            && (chance < EarlyChance / 2 || (chance < LikelyChance - DeadBand && fillShare < WorthTheDrive - DeadBand));
    }

    /// <summary>Whether it is worth knowing.</summary>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="rules">The station's limits.</param>
    /// <param name="now">The present.</param>
    public static bool IsSoon(TankForecast? forecast, RuleSettings rules, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rules);
        return forecast?.ChanceBy(now.AddDays(rules.TankSoonDays)) >= EarlyChance;
    }

    /// <summary>Whether it is not worth knowing any more.</summary>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="rules">The station's limits.</param>
    /// <param name="now">The present.</param>
    public static bool IsNotSoon(TankForecast? forecast, RuleSettings rules, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rules);
        return !(forecast?.ChanceBy(now.AddDays(rules.TankSoonDays)) >= EarlyChance / 2);
    }

    /// <summary>The numbers behind the judgement; null without a level or a tank.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="outlook">When it will be full.</param>
    /// <param name="setup">The station.</param>
    public static TankFillingEvidence? Evidence(StationFacts facts, TankOutlook outlook, StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(outlook);
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        return facts.Tank.Level is { } level && setup.Tank.At(level.Reading.At) is { } tank
            ? new TankFillingEvidence(level.Share, tank.CapacityLitres, outlook.PerDay * tank.CapacityLitres, outlook.Window)
            : null;
    }
}
