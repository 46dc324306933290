using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Idle tool: a tool is passed over while the others are used.</summary>
public static class IdleTool
{
    /// <summary>Whether a tool has been passed over for its limit of days, while the others were used often enough.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static bool IsIdle(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(tool);
        ArgumentNullException.ThrowIfNull(context);
        double limitDays = tool.IdleAfterDays ?? context.Setup.Rules.IdleAfterDays;
        return (now - WatchedSince(tool, facts, context, now)).TotalDays >= limitDays
            && Of(tool, facts) is { } use && use.OtherUses >= Math.Max(1, context.Setup.Rules.IdleMinOtherUses);
    }

    /// <summary>The numbers behind the judgement.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static IdleToolEvidence Evidence(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(tool);
        ToolFacts? use = Of(tool, facts);
        int otherUses = (int)Math.Min(int.MaxValue, Math.Round(use?.OtherUses ?? 0));
        return new IdleToolEvidence(tool.Name, use?.LastUse, WatchedSince(tool, facts, context, now), otherUses);
    }

    // Silence counts from the last use, but not from before the tool hung there or the station was required to work.
    private static DateTimeOffset WatchedSince(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        DateTimeOffset since = tool.Installed > context.WatchedFrom ? tool.Installed : context.WatchedFrom;
        since = Of(tool, facts)?.LastUse is { } use && use > since ? use : since;
        return context.Quiet.LastEnd(now) is { } quietEnd && quietEnd > since ? quietEnd : since;
    }

    private static ToolFacts? Of(ToolSetup tool, StationFacts facts) => facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug));
}
