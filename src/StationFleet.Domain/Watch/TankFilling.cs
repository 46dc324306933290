using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Tank filling: the waste tank will be full before somebody who is told now gets there.</summary>
/// <remarks>
/// The limit is worked backwards: a ticket when the chance that the tank is full within the response time reaches a tenth, or from the
/// limit of its fill on; due soon when that chance is reached within the days of notice.
/// </remarks>
public static class TankFilling
{
    /// <summary>The chance from which on a full tank counts.</summary>
    public const double EarlyChance = 0.10;

    /// <summary>
    /// How far under its limit the fill must fall before the problem clears, as a share of capacity: 5 %, the dead-band commonly
    /// quoted for levels (secondary sources to ISA-18.2).
    /// </summary>
    public const double DeadBand = 0.05;

    private const double ClearChance = 0.05;
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
        return fillShare >= rules.TankRaiseShare || forecast?.ChanceBy(now.AddHours(rules.TankResponseHours)) >= EarlyChance;
    }

    /// <summary>Whether nobody has to go any more.</summary>
    /// <param name="fillShare">The level, as a share of capacity.</param>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="rules">The station's limits.</param>
    /// <param name="now">The present.</param>
    public static bool NeedsNoVisit(double fillShare, TankForecast? forecast, RuleSettings rules, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rules);
        return fillShare < rules.TankRaiseShare - DeadBand && !(forecast?.ChanceBy(now.AddHours(2 * rules.TankResponseHours)) >= ClearChance);
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

    /// <summary>The numbers behind the judgement; null without a level or a tank.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="forecast">The forecast; null when there is none.</param>
    /// <param name="setup">The station.</param>
    public static TankFillingEvidence? Evidence(StationFacts facts, TankForecast? forecast, StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(setup);
        return facts.Tank.Level is { } level && setup.Tank.At(level.Reading.At) is { } tank
            ? new TankFillingEvidence(level.Share, tank.CapacityLitres, forecast?.PerDay * tank.CapacityLitres, forecast?.Window)
            : null;
    }
}
