using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service.Routes;

/// <summary>What a day on the road is reckoned with; people change it in the Office.</summary>
/// <remarks>The defaults are common practice, no source: country roads are about 1.4 times as long as the straight line.</remarks>
public sealed record RouteSettings
{
    /// <summary>A road's length by the straight line's; 1 or more.</summary>
    public double RoadFactor { get; init; } = 1.4;

    /// <summary>The usual speed [km/h].</summary>
    public double SpeedKmh { get; init; } = 55;

    /// <summary>When the day starts, by the clock of the start place.</summary>
    public TimeOnly StartsAt { get; init; } = new(8, 0);

    /// <summary>How long the day may last, back at its end place [h].</summary>
    public double DayHours { get; init; } = 8;

    /// <summary>At each access, to park and unpack [min].</summary>
    public int MinutesToUnpack { get; init; } = 5;

    /// <summary>Minutes for a rule's work, where people set others than <see cref="RouteWork.Minutes"/>.</summary>
    public IReadOnlyDictionary<Rule, int> Minutes { get; init; } = new Dictionary<Rule, int>();

    /// <summary>How long a rule's work takes [min].</summary>
    /// <param name="rule">The rule of the ticket.</param>
    public int MinutesFor(Rule rule) => Minutes.TryGetValue(rule, out int minutes) ? minutes : RouteWork.Minutes(rule);
}
