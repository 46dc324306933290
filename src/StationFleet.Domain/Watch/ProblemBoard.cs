using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>The problem slots of one station: asks the rules, applies delays and dead-bands, remembers what is on.</summary>
internal sealed class ProblemBoard(FactsContext context, IEnumerable<ProblemSlot> slots)
{
    private readonly Dictionary<(Rule, string), ProblemSlot> _slots = slots.ToDictionary(slot => (slot.Rule, slot.Part), slot => slot with { });
    private readonly List<ClearedProblem> _cleared = [];
    private readonly List<Problem> _problems = [];

    public IReadOnlyList<ProblemSlot> Slots => [.. _slots.Values.OrderBy(slot => slot.Rule).ThenBy(slot => slot.Part, StringComparer.Ordinal)];

    public IReadOnlyList<Problem> Problems => _problems;

    /// <summary>Judges one instant.</summary>
    /// <returns>What there is to decide about tickets, or null.</returns>
    public WatchStep? Judge(StationFacts facts, DateTimeOffset? lastHeard, DateTimeOffset now)
    {
        _problems.Clear();
        _cleared.Clear();
        if (context.Quiet.IsQuiet(now))
        {
            // Muted, not cleared: a ticket about it stays for a person, and nothing says that the problem went away.
            _slots.Clear();
            return null;
        }

        bool isSilent = JudgeSilence(lastHeard, now);
        JudgeTools(facts, isSilent, now);
        JudgeTank(facts, now);
        JudgeCharge(facts, now);

        List<Problem> visits = _problems.FindAll(problem => problem.Urgency == Urgency.NeedsVisit);
        return visits.Count > 0 || _cleared.Count > 0 ? new WatchStep(now, visits, [.. _cleared]) : null;
    }

    private bool JudgeSilence(DateTimeOffset? lastHeard, DateTimeOffset now)
    {
        bool isSilent = NotReporting.IsSilent(lastHeard, context, now);
        Urgency? urgency = Move(Rule.NotReporting, "", slot =>
            slot.Raise = slot.Raise.Next(isSilent, !isSilent, now, TimeSpan.Zero, now));
        Show(Rule.NotReporting, "", urgency, _ => NotReporting.Evidence(lastHeard, context.Setup));
        return isSilent;
    }

    private void JudgeTools(StationFacts facts, bool isSilent, DateTimeOffset now)
    {
        foreach (ToolSetup tool in context.Setup.Tools)
        {
            // While nothing is heard, nothing is known of uses: what is on stays on, and nothing new comes on.
            bool isIdle = IdleTool.IsIdle(tool, facts, context, now);
            Urgency? urgency = Move(Rule.IdleTool, tool.Slug, slot =>
                slot.Raise = slot.Raise.Next(isIdle && !isSilent, !isIdle, now, TimeSpan.Zero, now));
            Show(Rule.IdleTool, tool.Slug, urgency, _ => IdleTool.Evidence(tool, facts, context, now));
        }

        foreach ((Rule, string Part) gone in _slots.Keys.Where(k => k.Item1 == Rule.IdleTool && context.Setup.Tools.All(t => t.Slug != k.Item2)).ToList())
        {
            Drop(gone);
        }
    }

    private void JudgeTank(StationFacts facts, DateTimeOffset now)
    {
        RuleSettings rules = context.Setup.Rules;
        DateTimeOffset? from = context.Quiet.LastEnd(now);
        if (context.Setup.Tank is null || facts.Tank.Last is not { } last)
        {
            Drop((Rule.TankFilling, ""));
            return;
        }

        Urgency? urgency = Move(Rule.TankFilling, "", slot =>
        {
            slot.Soon = Next(slot.Soon, rules.TankSoonShare);
            slot.Raise = Next(slot.Raise, rules.TankRaiseShare);
        });
        Show(Rule.TankFilling, "", urgency, _ => TankFilling.Evidence(facts, context));

        ProblemSwitch Next(ProblemSwitch state, double limit) => state.Next(
            TankFilling.IsOver(facts, limit, from), TankFilling.IsClear(facts, limit, from), last.At, TimeSpan.Zero, now);
    }

    private void JudgeCharge(StationFacts facts, DateTimeOffset now)
    {
        RuleSettings rules = context.Setup.Rules;
        if (facts.Charge is not { } charge || charge.At < context.Quiet.LastEnd(now))
        {
            return;
        }

        Urgency? urgency = Move(Rule.LowCharge, "", slot =>
        {
            slot.Soon = Next(slot.Soon, rules.ChargeSoonShare);
            slot.Raise = Next(slot.Raise, rules.ChargeRaiseShare);
        });
        Show(Rule.LowCharge, "", urgency, on => LowCharge.Evidence(
            facts, on == Urgency.NeedsVisit ? rules.ChargeRaiseShare : rules.ChargeSoonShare));

        ProblemSwitch Next(ProblemSwitch state, double limit) => state.Next(
            LowCharge.IsUnder(facts, limit), LowCharge.IsClear(facts, limit), charge.At, LowCharge.Delay, now);
    }

    private Urgency? Move(Rule rule, string part, Action<ProblemSlot> step)
    {
        if (!_slots.TryGetValue((rule, part), out ProblemSlot? slot))
        {
            slot = new ProblemSlot { Rule = rule, Part = part };
        }

        bool neededVisit = slot.Raise.OnSince is not null;
        step(slot);
        if (neededVisit && slot.Raise.OnSince is null)
        {
            _cleared.Add(new ClearedProblem(rule, part));
        }

        if (slot.IsEmpty())
        {
            _slots.Remove((rule, part));
        }
        else
        {
            _slots[(rule, part)] = slot;
        }

        return slot.Urgency();
    }

    private void Show(Rule rule, string part, Urgency? urgency, Func<Urgency, Evidence?> evidence)
    {
        if (urgency is { } on && evidence(on) is { } numbers)
        {
            ProblemSlot slot = _slots[(rule, part)];
            _problems.Add(new Problem(rule, part, on, (slot.Raise.OnSince ?? slot.Soon.OnSince)!.Value, numbers));
        }
    }

    private void Drop((Rule Rule, string Part) key)
    {
        if (_slots.Remove(key, out ProblemSlot? slot) && slot.Raise.OnSince is not null)
        {
            _cleared.Add(new ClearedProblem(key.Rule, key.Part));
        }
    }
}
