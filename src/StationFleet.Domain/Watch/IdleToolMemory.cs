using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>Keeps what was last thought of each tool, since it changes with sessions and days only and is asked for all the time.</summary>
internal sealed class IdleToolMemory(FactsContext context)
{
    private readonly Dictionary<string, Thought> _thoughts = new(StringComparer.Ordinal);

    private sealed record Thought(DayRun[] Run, double Used, double PassedOver, long Day, bool IsIdle)
    {
        public IdleToolEvidence? Evidence { get; set; }
    }

    public bool IsIdle(ToolSetup tool, StationFacts facts, DateTimeOffset now) => Of(tool, facts, now).IsIdle;

    public IdleToolEvidence Evidence(ToolSetup tool, StationFacts facts, DateTimeOffset now) =>
        Of(tool, facts, now).Evidence ??= IdleTool.Evidence(tool, facts, context, now);

    private Thought Of(ToolSetup tool, StationFacts facts, DateTimeOffset now)
    {
        ToolFacts use = facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug)) ?? new ToolFacts();
        long day = now.UtcTicks / TimeSpan.TicksPerDay;
        if (!_thoughts.TryGetValue(tool.Slug, out Thought? thought) || !ReferenceEquals(thought.Run, use.Run)
            || thought.Used != use.Used || thought.PassedOver != use.PassedOver || thought.Day != day)
        {
            thought = new Thought(use.Run, use.Used, use.PassedOver, day, IdleTool.IsIdle(tool, facts, context, now));
            _thoughts[tool.Slug] = thought;
        }

        return thought;
    }
}
