using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>The problem slots of one station: asks the rules, applies delays and dead-bands, remembers what is on.</summary>
internal sealed partial class ProblemBoard(FactsContext context, IEnumerable<ProblemSlot> slots, ChargeForecast? charge = null, TankOutlook? tank = null)
{
    private readonly Dictionary<(Rule, string), ProblemSlot> _slots = slots.ToDictionary(slot => (slot.Rule, slot.Part), slot => slot with { });
    private readonly List<ClearedProblem> _cleared = [];
    private readonly List<Problem> _problems = [];
    private readonly IdleToolMemory _idle = new(context);
    private UnusedVerdict? _unused;

    public IReadOnlyList<ProblemSlot> Slots => [.. _slots.Values.OrderBy(slot => slot.Rule).ThenBy(slot => slot.Part, StringComparer.Ordinal)];

    public IReadOnlyList<Problem> Problems => _problems;

    /// <summary>When the battery runs down, as last reckoned.</summary>
    public ChargeForecast? Charge { get; private set; } = charge;

    /// <summary>When the tank will be full, as a problem that is on tells it; null when none is on or it is to be reckoned anew.</summary>
    public TankOutlook? Tank { get; private set; } = tank;

    /// <summary>Judges one instant.</summary>
    /// <returns>What there is to decide about tickets, or null.</returns>
    public WatchStep? Judge(StationFacts facts, ReportRhythm rhythm, DateTimeOffset? lastHeard, DateTimeOffset now)
    {
        _problems.Clear();
        _cleared.Clear();
        if (context.Quiet.IsQuiet(now))
        {
            // Muted, not cleared: a ticket about it stays for a person, and nothing says that the problem went away.
            _slots.Clear();
            return null;
        }

        // Silence and an empty battery come first: they explain why nothing is used.
        bool isSilent = JudgeSilence(rhythm, lastHeard, now);
        bool isFlat = JudgeCharge(facts, now) == Urgency.NeedsVisit && LowCharge.IsUnder(facts, context.Setup.Rules.ChargeRaiseShare);
        bool isWrongClock = JudgeClock(rhythm, lastHeard, now);
        JudgePlace(facts, now);
        bool isUnused = JudgeUse(facts, isSilent || isFlat || isWrongClock, now) == Urgency.NeedsVisit;
        JudgeTools(facts, isSilent || isFlat || isWrongClock || isUnused, now);
        Lazy<TankForecast?> forecast = new(() => facts.Tank.Level is null ? null : TankForecast.Of(facts, context, now));
        JudgeTank(facts, forecast, now);
        JudgeSamples(facts, forecast, now);
        JudgeDip(now);
        JudgePower(facts, now);

        List<Problem> visits = _problems.FindAll(problem => problem.Urgency == Urgency.NeedsVisit);
        return visits.Count > 0 || _cleared.Count > 0 ? new WatchStep(now, visits, [.. _cleared]) : null;
    }

    private bool JudgeSilence(ReportRhythm rhythm, DateTimeOffset? lastHeard, DateTimeOffset now)
    {
        TimeSpan silence = NotReporting.Silence(lastHeard, context, now);
        bool isSilent = silence > NotReporting.Limit(context.Setup, rhythm);

        // Where several fell silent together, one ticket speaks for all.
        SilentTogether? together = context.Setup.SilentTogether;
        bool isTold = together is not null && together.Codes.Contains(context.Setup.Code) && together.Leader != context.Setup.Code;
        bool isLong = isSilent && !isTold && silence > NotReporting.TicketLimit(rhythm, context, now);
        Urgency? urgency = Move(Rule.NotReporting, "", slot =>
        {
            slot.Soon = slot.Soon.Next(isSilent, !isSilent, now, TimeSpan.Zero, now);
            slot.Raise = slot.Raise.Next(isLong, !isSilent, now, TimeSpan.Zero, now);
        });
        Show(Rule.NotReporting, "", urgency, _ => NotReporting.Evidence(lastHeard, context.Setup, rhythm));
        return isSilent;
    }

    private bool JudgeClock(ReportRhythm rhythm, DateTimeOffset? lastHeard, DateTimeOffset now)
    {
        bool isWrong = ClockWrong.AheadBy(rhythm, lastHeard) is not null;
        Urgency? urgency = Move(Rule.ClockWrong, "", slot =>
            slot.Raise = slot.Raise.Next(isWrong, !isWrong, now, TimeSpan.Zero, now));
        Show(Rule.ClockWrong, "", urgency, _ => ClockWrong.Evidence(rhythm, lastHeard));
        return isWrong;
    }

    private void JudgePlace(StationFacts facts, DateTimeOffset now)
    {
        bool isAway = MovedStation.IsAway(facts, context, now);
        Urgency? urgency = Move(Rule.Moved, "", slot => slot.Raise = slot.Raise.Next(isAway, !isAway, now, TimeSpan.Zero, now));
        Show(Rule.Moved, "", urgency, _ => MovedStation.Evidence(facts, context, now));
    }

    private Urgency? JudgeUse(StationFacts facts, bool isExplained, DateTimeOffset now)
    {
        // A long look back over the hours: done once an hour, and at once when somebody uses the station.
        _slots.TryGetValue((Rule.StationUnused, ""), out ProblemSlot? known);
        bool isUsed = facts.Session is not null || facts.Sessions.LastAt > (known?.Soon.OnSince ?? known?.Raise.OnSince);
        Urgency? urgency = known?.Urgency();
        if (isUsed ? known is not null : now.UtcTicks % TimeSpan.TicksPerHour == 0)
        {
            UnusedVerdict? verdict = isUsed ? null : StationUnused.Judge(facts, context, now);
            RuleSettings rules = context.Setup.Rules;
            double missing = isExplained ? 0 : verdict?.Expected ?? 0;

            // More silence never clears it; a use does, also one that is told late.
            bool isClear = isUsed || verdict?.Expected < rules.UnusedSoonSessions;
            urgency = Move(Rule.StationUnused, "", slot =>
            {
                slot.Soon = slot.Soon.Next(missing >= rules.UnusedSoonSessions, isClear, now, TimeSpan.Zero, now);
                slot.Raise = slot.Raise.Next(missing >= rules.UnusedTicketSessions, isClear, now, TimeSpan.Zero, now);
            });
            _unused = verdict ?? _unused;
        }

        Show(Rule.StationUnused, "", urgency, _ => (_unused ??= StationUnused.Judge(facts, context, now)) is { } told
            ? new StationUnusedEvidence(told.Since, Math.Round(told.Expected))
            : null);
        return urgency;
    }

    private void JudgeTools(StationFacts facts, bool isExplained, DateTimeOffset now)
    {
        foreach (ToolSetup tool in context.Setup.Tools)
        {
            bool isRunaway = RunawayCounter.IsOn(tool, facts);
            Urgency? runaway = Move(Rule.RunawayCounter, tool.Slug, slot =>
                slot.Raise = slot.Raise.Next(isRunaway && !isExplained, !isRunaway, now, TimeSpan.Zero, now));
            Show(Rule.RunawayCounter, tool.Slug, runaway, _ => RunawayCounter.Evidence(tool, facts));

            // While something else explains the silence, nothing is known of the tool: what is on stays on, and nothing new comes on.
            bool isIdle = IdleTool.IsPastItsDays(tool, facts, context, now) || _idle.IsIdle(tool, facts, now);
            Urgency? idle = Move(Rule.IdleTool, tool.Slug, slot =>
                slot.Raise = slot.Raise.Next(isIdle && !isExplained, !isIdle, now, TimeSpan.Zero, now));
            Show(Rule.IdleTool, tool.Slug, idle, _ => _idle.Evidence(tool, facts, now));
            JudgeFall(tool, facts, isExplained, isToldOtherwise: idle is not null || runaway is not null, now);
        }

        foreach ((Rule, string Part) gone in _slots.Keys
            .Where(k => k.Item1 is Rule.IdleTool or Rule.RunawayCounter or Rule.FallingUse && context.Setup.Tools.All(t => t.Slug != k.Item2)).ToList())
        {
            Drop(gone);
        }
    }

    private void JudgeFall(ToolSetup tool, StationFacts facts, bool isExplained, bool isToldOtherwise, DateTimeOffset now)
    {
        FallingFacts? use = facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug))?.Falling;
        double score = isToldOtherwise ? 0 : use?.Score ?? 0;
        Urgency? urgency = Move(Rule.FallingUse, tool.Slug, slot => slot.Soon = slot.Soon.Next(
            score >= FallingUse.OnAt && !isExplained, score < FallingUse.OffUnder, now, TimeSpan.Zero, now));
        Show(Rule.FallingUse, tool.Slug, urgency, _ => use is null
            ? null
            : new FallingUseEvidence(tool.Name, FallingUse.UsualShare(use), Math.Max(1, use.RaisedDays)));
    }

    private void JudgeTank(StationFacts facts, Lazy<TankForecast?> forecast, DateTimeOffset now)
    {
        if (context.Setup.Tank.At(now) is not { } tank || facts.Tank.Level is not { } level)
        {
            Drop((Rule.TankFilling, ""));
            return;
        }

        // The coming weeks are worked out once an hour and when it was emptied; the level itself is looked at each time.
        RuleSettings rules = context.Setup.Rules;
        bool isEmptied = facts.Tank.PumpOutConfirmedAt == facts.Tank.Last?.At;
        bool isDue = isEmptied || now.UtcTicks % TimeSpan.TicksPerHour == 0;
        Tank = isDue ? null : Tank;
        Urgency? urgency = _slots.GetValueOrDefault((Rule.TankFilling, ""))?.Urgency();
        if ((isDue || level.Share >= rules.TankRaiseShare) && TankFilling.IsKnown(facts, context.Quiet.LastEnd(now)))
        {
            // Over its limit the tank needs a visit whatever is forecast.
            TankForecast? due = isDue ? forecast.Value : null;
            bool needsVisit = TankFilling.NeedsVisit(level.Share, due, rules, now);
            bool isClear = TankFilling.NeedsNoVisit(level.Share, due, rules, now);
            bool isSoon = TankFilling.IsSoon(due, rules, now) || needsVisit;
            bool isNotSoon = TankFilling.IsNotSoon(due, rules, now) && isClear;
            urgency = Move(Rule.TankFilling, "", slot =>
            {
                slot.Soon = slot.Soon.Next(isSoon, isNotSoon, now, TimeSpan.Zero, now);
                slot.Raise = slot.Raise.Next(needsVisit, isClear, now, TimeSpan.Zero, now);
            });
        }

        Show(Rule.TankFilling, "", urgency, _ => TankFilling.Evidence(facts, Tank ??= TankOutlook.Of(forecast.Value), context.Setup));
        JudgeTankSensor(facts, tank, now);
    }

    private void JudgeTankSensor(StationFacts facts, TankSetup tank, DateTimeOffset now)
    {
        foreach (string part in TankSensor.Parts)
        {
            bool isOn = TankSensor.IsOn(part, facts, tank, now);
            Judge(
                Rule.TankSensor, part, isOn, !isOn && TankSensor.IsClear(part, facts, tank, now), now,
                () => TankSensor.Evidence(part, facts, tank, now));
        }
    }

    private void JudgeDip(DateTimeOffset now)
    {
        DateTimeOffset from = context.Quiet.LastEnd(now) is { } quietEnd && quietEnd > context.WatchedFrom ? quietEnd : context.WatchedFrom;
        TankDip? dip = TankDipMismatch.Newest(context.Setup, from, now);
        bool isApart = TankDipMismatch.IsApart(dip);
        Urgency? urgency = Move(Rule.TankSensor, TankDipMismatch.Part, slot =>
            slot.Raise = slot.Raise.Next(isApart, !isApart, now, TimeSpan.Zero, now));
        Show(Rule.TankSensor, TankDipMismatch.Part, urgency, _ => dip is null
            ? null
            : new TankDipEvidence(dip.At, dip.DipLitres, dip.SensorLitres, dip.CapacityLitres));
    }

    private void JudgeSamples(StationFacts facts, Lazy<TankForecast?> forecast, DateTimeOffset now)
    {
        PlannedTaking[] open = [.. context.Setup.Takings.Where(taking => taking.IsOpen(now))];
        foreach ((Rule, string Part) gone in _slots.Keys.Where(k => k.Item1 == Rule.SampleDue && open.All(taking => SampleDue.Part(taking) != k.Item2)).ToList())
        {
            Drop(gone);
        }

        // With the tank's forecast, once an hour; a taken sample goes away at once.
        (RuleSettings rules, TimeZoneInfo zone) = (context.Setup.Rules, context.Setup.Zone);
        foreach (PlannedTaking taking in open)
        {
            string part = SampleDue.Part(taking);
            Urgency? urgency = _slots.GetValueOrDefault((Rule.SampleDue, part))?.Urgency();
            if (now.UtcTicks % TimeSpan.TicksPerHour == 0)
            {
                SampleDueEvidence due = Due(taking);
                (TimeSpan soon, TimeSpan response) = (TimeSpan.FromDays(rules.SampleSoonDays), TimeSpan.FromHours(rules.SampleResponseHours));
                urgency = Move(Rule.SampleDue, part, slot =>
                {
                    slot.Soon = slot.Soon.Next(SampleDue.IsOn(due, soon, zone, now), SampleDue.IsOff(due, soon, zone, now), now, TimeSpan.Zero, now);
                    slot.Raise = slot.Raise.Next(SampleDue.IsOn(due, response, zone, now), SampleDue.IsOff(due, response, zone, now), now, TimeSpan.Zero, now);
                });
            }

            Show(Rule.SampleDue, part, urgency, _ => Due(taking));
        }

        SampleDueEvidence Due(PlannedTaking taking) => SampleDue.Evidence(
            taking,
            forecast.Value,
            _problems.Exists(problem => problem is { Rule: Rule.TankFilling, Urgency: Urgency.NeedsVisit }) ? facts.Tank.Level?.Share : null,
            zone,
            now);
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
