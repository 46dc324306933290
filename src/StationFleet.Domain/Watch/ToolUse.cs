using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>Reads uses out of the tools' running totals.</summary>
internal static class ToolUse
{
    public static void Take(StationFacts facts, ReadOnlySpan<Measurement> instant, QuietCalendar quiet)
    {
        DateTimeOffset at = instant[0].At;
        bool isQuiet = quiet.IsQuiet(at);
        DateTimeOffset? quietEnd = quiet.LastEnd(at);
        double uses = 0;
        foreach (ref readonly Measurement measurement in instant)
        {
            if (Find(facts, measurement.Name) is not { } tool)
            {
                continue;
            }

            Reading now = new(at, measurement.Value);
            double gain = tool.Last is { } last ? CounterTotals.Between(last, now, facts.BootedAt, wrapsAt: null).Amount : 0;
            if (gain > 0)
            {
                tool.LastUse = at;

                // Uses that may have been made before the station was required to work are no evidence against the other tools.
                uses += isQuiet || tool.Last?.At < quietEnd ? 0 : gain;
            }

            tool.Last = now;
        }

        foreach (ToolFacts tool in facts.Tools.Values)
        {
            tool.OtherUses = tool.LastUse == at ? 0 : tool.OtherUses + uses;
        }
    }

    private static ToolFacts? Find(StationFacts facts, string name)
    {
        if (!facts.Tools.TryGetValue(name, out ToolFacts? tool) && MeasurementName.ToolOfUses(name) is not null)
        {
            tool = new ToolFacts();
            facts.Tools.Add(name, tool);
        }

        return tool;
    }
}
