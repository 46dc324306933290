using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>Use sessions of one local day that passed a tool over.</summary>
/// <param name="Day">The local day.</param>
/// <param name="Sessions">How many.</param>
public readonly record struct DayRun(DateOnly Day, int Sessions);

/// <summary>What is known of one tool: its running total, how often sessions pick it up, and what has passed it over of late.</summary>
public sealed record ToolFacts
{
    /// <summary>The newest reading of the total; null before the first.</summary>
    public Reading? Last { get; set; }

    /// <summary>When the public last used it, by the reading that showed it; null when it never did.</summary>
    public DateTimeOffset? LastUse { get; set; }

    /// <summary>Sessions that picked it up, fading.</summary>
    public double Used { get; set; }

    /// <summary>Sessions that passed it over, fading; those of <see cref="Run"/> are not among them until it is used again.</summary>
    public double PassedOver { get; set; }

    /// <summary>
    /// Sessions that passed it over since its last use, its installation, the last quiet period or the last finding of a person,
    /// by local day; the array is never changed, only replaced.
    /// </summary>
    public DayRun[] Run { get; set; } = [];

    /// <summary>Its use of whole days, for Falling use.</summary>
    public FallingFacts Falling { get; set; } = new();

    /// <summary>Readings in a row at which it alone counted.</summary>
    public int AloneReadings { get; set; }

    /// <summary>The beginning of the first interval in which it alone counted; null when the last interval was not such.</summary>
    public DateTimeOffset? AloneSince { get; set; }

    /// <summary>The uses that it then counted.</summary>
    public double AloneUses { get; set; }

    /// <summary>When its total last rose in a way that no person causes; null when it never did.</summary>
    public DateTimeOffset? RunawayAt { get; set; }

    /// <summary>The uses that it then showed, since <see cref="RunawayFrom"/>.</summary>
    public double RunawayUses { get; set; }

    /// <summary>Since when those uses were counted.</summary>
    public DateTimeOffset? RunawayFrom { get; set; }
}
