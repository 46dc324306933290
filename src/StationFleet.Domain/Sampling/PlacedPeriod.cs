namespace StationFleet.Domain.Sampling;

/// <summary>A tank period where and when it was.</summary>
/// <param name="Period">The period.</param>
/// <param name="Water">Its tank water.</param>
/// <param name="Place">The water beside which the station stood at its end; null in transit.</param>
/// <param name="Codes">Its sampled grabs.</param>
public sealed record PlacedPeriod(TankPeriod Period, TankWater Water, string? Place, IReadOnlyList<string> Codes);
