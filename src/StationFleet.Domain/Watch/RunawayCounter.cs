using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Runaway counter: a total rises faster than anybody can press, or one tool alone counts at reading after reading for
/// half an hour: a stuck switch, a loose wire.
/// </summary>
public static class RunawayCounter
{
    /// <summary>So many readings in a row, and so long, must show one tool alone.</summary>
    internal const int AloneReadings = 6;
    internal static readonly TimeSpan AloneFor = TimeSpan.FromMinutes(30);

    /// <summary>A day without such a rise clears it.</summary>
    private static readonly TimeSpan ClearAfter = TimeSpan.FromHours(24);

    /// <summary>Whether a tool's total has run away and not been quiet for a day since.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    public static bool IsOn(ToolSetup tool, StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(tool);
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug))?.RunawayAt is { } at && facts.LastAt - at < ClearAfter;
    }

    /// <summary>The numbers behind it; null when there is nothing.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    public static RunawayCounterEvidence? Evidence(ToolSetup tool, StationFacts facts)
    {
        ArgumentNullException.ThrowIfNull(tool);
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug)) is { RunawayAt: { } at, RunawayFrom: { } from } use
            ? new RunawayCounterEvidence(tool.Name, use.RunawayUses, from, at)
            : null;
    }

    /// <summary>Looks at how totals rose at one instant.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="uses">How much its total rose since the last reading.</param>
    /// <param name="from">The last reading.</param>
    /// <param name="at">The instant.</param>
    /// <param name="shortestUse">No tool can be used twice within this time.</param>
    /// <returns>Whether it rose faster than anybody can press.</returns>
    internal static bool TakeSpeed(ToolFacts tool, double uses, DateTimeOffset from, DateTimeOffset at, TimeSpan shortestUse)
    {
        if (uses <= ((at - from) / shortestUse) + 1)
        {
            return false;
        }

        (tool.RunawayAt, tool.RunawayFrom, tool.RunawayUses) = (at, from, uses);
        return true;
    }

    /// <summary>Remembers which tool counted alone.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="gains">The totals that rose.</param>
    /// <param name="from">The beginning of the interval; null when it is too wide to tell.</param>
    /// <param name="at">Its end.</param>
    internal static void TakeCompany(StationFacts facts, List<(string Name, double Uses)> gains, DateTimeOffset? from, DateTimeOffset at)
    {
        foreach ((string name, ToolFacts tool) in facts.Tools)
        {
            if (from is null || gains.Count != 1 || gains[0].Name != name)
            {
                (tool.AloneReadings, tool.AloneSince) = (0, null);
                continue;
            }

            (tool.AloneReadings, tool.AloneSince) = (tool.AloneReadings + 1, tool.AloneSince ?? from);
            bool goesOn = tool.RunawayAt is { } before && tool.RunawayFrom == tool.AloneSince;
            tool.AloneUses = tool.AloneReadings == 1 ? gains[0].Uses : tool.AloneUses + gains[0].Uses;
            if (goesOn || (tool.AloneReadings >= AloneReadings && at - tool.AloneSince >= AloneFor))
            {
                (tool.RunawayAt, tool.RunawayFrom, tool.RunawayUses) = (at, tool.AloneSince, tool.AloneUses);
            }
        }
    }
}
