namespace StationFleet.Domain.Watch;

/// <summary>The rule Tank filling: the waste tank nears its capacity.</summary>
public static class TankFilling
{
    /// <summary>
    /// How far under its limit the fill must fall before the problem clears, as a share of capacity: 5 %, the dead-band commonly
    /// quoted for levels (secondary sources to ISA-18.2).
    /// </summary>
    public const double DeadBand = 0.05;

    /// <summary>Whether two readings in a row are at the limit or over it.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, as a share of capacity.</param>
    /// <param name="from">Earlier readings don't count: the end of the last quiet period, or null.</param>
    public static bool IsOver(StationFacts facts, double limitShare, DateTimeOffset? from) =>
        Two(facts, from) is { } two && Math.Min(two.Previous, two.Last) >= limitShare;

    /// <summary>Whether two readings in a row lie under the limit by more than the dead-band.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, as a share of capacity.</param>
    /// <param name="from">Earlier readings don't count: the end of the last quiet period, or null.</param>
    public static bool IsClear(StationFacts facts, double limitShare, DateTimeOffset? from) =>
        Two(facts, from) is { } two && Math.Max(two.Previous, two.Last) < limitShare - DeadBand;

    /// <summary>The numbers behind the judgement, or null when the station has no tank or no reading.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    public static TankFillingEvidence? Evidence(StationFacts facts, FactsContext context)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        return facts.Tank.Last is { } last && context.Setup.Tank.At(last.At) is { } tank
            ? new TankFillingEvidence(last.Value, tank.CapacityLitres, facts.Tank.MeanDailyRise() * tank.CapacityLitres)
            : null;
    }

    private static (double Previous, double Last)? Two(StationFacts facts, DateTimeOffset? from) =>
        facts.Tank is { Previous: { } previous, Last: { } last } && (from is null || previous.At >= from)
            ? (previous.Value, last.Value)
            : null;
}
