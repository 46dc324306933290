using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>Reads uses out of the tools' running totals.</summary>
internal static class ToolUse
{
    public static void Take(StationFacts facts, ReadOnlySpan<Measurement> instant, FactsContext context)
    {
        DateTimeOffset at = instant[0].At;
        TimeSpan shortestUse = TimeSpan.FromSeconds(context.Setup.Rules.ShortestUseSeconds);
        List<(string Name, double Uses)> gains = [];
        List<(ToolFacts Tool, double Uses, DateTimeOffset From)> tooFast = [];
        DateTimeOffset? from = null;
        bool isLost = false;
        foreach (ref readonly Measurement measurement in instant)
        {
            if (Find(facts, measurement.Name) is not { } tool)
            {
                continue;
            }

            Reading now = new(at, measurement.Value);
            if (tool.Last is { } last)
            {
                from = from < last.At ? from : last.At;
                CounterIncrement gain = CounterTotals.Between(last, now, facts.BootedAt, WrapOf(measurement.Name, context));
                isLost |= gain.IsUncertain && at - last.At > UseSessions.FineUpTo;
                if (gain.Amount > 0 && gain.Amount <= ((at - last.At) / shortestUse) + 1)
                {
                    gains.Add((measurement.Name, gain.Amount));
                }
                else if (gain is { Amount: > 0, IsUncertain: false })
                {
                    tooFast.Add((tool, gain.Amount, last.At));
                }
            }

            tool.Last = now;
        }

        // Two tools at once: it is the times that are wrong.
        if (tooFast is [var (runaway, uses, since)])
        {
            RunawayCounter.TakeSpeed(runaway, uses, since, at);
        }

        if (from is { } start)
        {
            Take(facts, gains, start, at, isLost, context);
        }
    }

    private static void Take(
        StationFacts facts, List<(string Name, double Uses)> gains, DateTimeOffset from, DateTimeOffset at, bool isLost, FactsContext context)
    {
        bool isFine = at - from <= UseSessions.FineUpTo;
        RunawayCounter.TakeCompany(facts, gains, isFine ? from : null, at);
        if (context.IsServiceTime(from, at))
        {
            return;
        }

        foreach ((string name, _) in gains)
        {
            facts.Tools[name].LastUse = at;
        }

        // A tool that counts by itself says nothing about boats.
        gains.RemoveAll(gain => RunawayCounter.IsOn(facts.Tools[gain.Name], at));

        double filling = gains.Where(gain => context.Fillers.Contains(gain.Name)).Sum(gain => gain.Uses);
        if (filling > 0)
        {
            facts.Tank.TakeUses(filling, at, context);
        }

        // Uses that may have been made before the station was required to work are no evidence against the other tools.
        if (context.Quiet.IsQuiet(at) || from < context.Quiet.LastEnd(at))
        {
            facts.Session = null;
            return;
        }

        UseSessions.Take(facts, at, gains, at - from, context);
        if (isLost)
        {
            facts.Sessions.UnknownUntil = at;
        }
    }

    private static double? WrapOf(string name, FactsContext context) =>
        MeasurementName.ToolOfUses(name) is { } slug ? context.Setup.Tools.FirstOrDefault(tool => tool.Slug == slug)?.UsesWrapAt : null;

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
