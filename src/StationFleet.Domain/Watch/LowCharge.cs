namespace StationFleet.Domain.Watch;

/// <summary>The rule Low charge: the battery runs down.</summary>
public static class LowCharge
{
    /// <summary>How far over its limit the charge must rise before the problem clears: 10 points (common practice, no source).</summary>
    public const double DeadBand = 0.10;

    /// <summary>How long the charge must stay on the other side of a limit before that counts: passing loads pull it down for minutes.</summary>
    public static readonly TimeSpan Delay = TimeSpan.FromHours(1);

    /// <summary>Whether the newest charge lies under the limit.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, 0 to 1.</param>
    public static bool IsUnder(StationFacts facts, double limitShare) => facts.Charge?.Value < limitShare;

    /// <summary>Whether the newest charge lies over the limit by the dead-band; a full battery always does.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, 0 to 1.</param>
    public static bool IsClear(StationFacts facts, double limitShare) => facts.Charge?.Value >= Math.Min(1, limitShare + DeadBand);

    /// <summary>The numbers behind the judgement, or null without a reading.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit that it fell under, 0 to 1.</param>
    public static LowChargeEvidence? Evidence(StationFacts facts, double limitShare) =>
        facts.Charge is { } charge ? new LowChargeEvidence(charge.Value, limitShare) : null;
}
