using StationFleet.Domain.Power;

namespace StationFleet.Domain.Watch;

/// <summary>What is to be expected of a station, as last reckoned: what lists and the week ahead show.</summary>
/// <param name="At">When it was reckoned.</param>
/// <param name="TankShare">The tank's level, as a share of capacity; null without one.</param>
/// <param name="TankFull">When the tank will be full; null when that is not known, or not within 70 days.</param>
/// <param name="IsTankKnown">Whether anything is forecast of the tank: then no window means a long time.</param>
/// <param name="Charge">When the battery runs down; null when that is not known.</param>
public sealed record StationAhead(DateTimeOffset At, double? TankShare, ForecastWindow? TankFull, bool IsTankKnown, ChargeForecast? Charge)
{
    private const double Moved = 0.02;
    private static readonly TimeSpan GoodFor = TimeSpan.FromHours(1);

    /// <summary>Whether it still holds: for an hour, unless the tank's level moved.</summary>
    /// <param name="now">The present.</param>
    /// <param name="tankShare">The tank's level now, as a share of capacity; null without one.</param>
    public bool Holds(DateTimeOffset now, double? tankShare) =>
        now - At < GoodFor && tankShare.HasValue == TankShare.HasValue && !(Math.Abs((tankShare - TankShare) ?? 0) >= Moved);
}
