using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>What is known of one tool's running total of uses.</summary>
public sealed record ToolFacts
{
    /// <summary>The newest reading of the total; null before the first.</summary>
    public Reading? Last { get; set; }

    /// <summary>When the total last rose; null when it never did since the tool was installed.</summary>
    public DateTimeOffset? LastUse { get; set; }

    /// <summary>
    /// Uses of the station's other tools since the later of this tool's last use, its installation and the end of the last quiet
    /// period; uses inside a quiet period are left out.
    /// </summary>
    public double OtherUses { get; set; }
}
