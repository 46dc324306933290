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
        return facts.LastAt is { } now && facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug)) is { } use && IsOn(use, now);
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

    /// <summary>Whether a tool's total has run away and not been quiet for a day since.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="at">The instant of judging.</param>
    internal static bool IsOn(ToolFacts tool, DateTimeOffset at) => tool.RunawayAt is { } away && at - away < ClearAfter;

    /// <summary>A total rose faster than anybody can press.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="uses">How much its total rose since the last reading.</param>
    /// <param name="from">The last reading.</param>
    /// <param name="at">The instant.</param>
    internal static void TakeSpeed(ToolFacts tool, double uses, DateTimeOffset from, DateTimeOffset at) =>
        (tool.RunawayAt, tool.RunawayFrom, tool.RunawayUses) = (at, from, uses);

    /// <summary>Remembers which tool counted alone.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="gains">The totals that rose.</param>
    /// <param name="from">The beginning of the interval; null when it is too wide to tell.</param>
    /// <param name="at">Its end.</param>
    internal static void TakeCompany(StationFacts facts, List<(string Name, double Uses)> gains, DateTimeOffset? from, DateTimeOffset at)
    {
        foreach ((string name, ToolFacts tool) in facts.Tools)
        {
            // What it did in a gap is not known: a day without is a day that was seen.
            if (from is null && tool.RunawayAt is { } seen && facts.LastAt is { } known && IsOn(tool, known))
            {
                tool.RunawayAt = at > seen ? at : seen;
            }

            if (from is null || facts.Tools.Count < 2 || gains.Count != 1 || gains[0].Name != name)
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
