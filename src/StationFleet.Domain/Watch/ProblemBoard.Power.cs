using StationFleet.Domain.Power;

namespace StationFleet.Domain.Watch;

/// <summary>The board's part about battery, panel and loads.</summary>
internal sealed partial class ProblemBoard
{
    private static readonly (Rule, string)[] PowerProblems =
        [(Rule.WeakPanel, ""), (Rule.ExtraLoad, ""), (Rule.AgedBattery, ""), (Rule.LowCharge, ColdBattery.Part)];

    private PowerDay[]? _judgedDays;
    private PanelDay[]? _judgedTests;
    private (bool IsOn, bool IsClear) _weak;
    private (bool IsOn, bool IsClear) _extra;
    private (bool IsOn, bool IsClear) _aged;

    private Urgency? JudgeCharge(StationFacts facts, DateTimeOffset now)
    {
        RuleSettings rules = context.Setup.Rules;
        if (facts.Charge is not { } charge || charge.At < context.Quiet.LastEnd(now))
        {
            return null;
        }

        ChargeForecast? forecast = Charge = LowCharge.Forecast(Charge, facts, context, now);
        Urgency? urgency = Move(Rule.LowCharge, "", slot =>
        {
            slot.Soon = Next(slot.Soon, rules.ChargeSoonShare, forecast?.WithinThreeDays >= ChargeForecast.LikelyFrom);
            slot.Raise = Next(slot.Raise, rules.ChargeRaiseShare, forecast?.WithinResponse >= LowCharge.RaiseFrom);
        });
        Show(Rule.LowCharge, "", urgency, on => LowCharge.Evidence(
            facts,
            on == Urgency.NeedsVisit || forecast?.WithinThreeDays >= ChargeForecast.PossibleFrom ? rules.ChargeRaiseShare : rules.ChargeSoonShare,
            forecast));
        return urgency;

        ProblemSwitch Next(ProblemSwitch state, double limit, bool isComing) => state.Next(
            isComing || LowCharge.IsUnder(facts, limit),
            !(forecast?.WithinThreeDays >= ChargeForecast.PossibleFrom) && LowCharge.IsClear(facts, limit),
            charge.At,
            LowCharge.Delay,
            now);
    }

    private void JudgePower(StationFacts facts, DateTimeOffset now)
    {
        if (context.Setup.Power is not { } power)
        {
            foreach ((Rule, string) gone in PowerProblems)
            {
                Drop(gone);
            }

            return;
        }

        // These look back over weeks and change with a day at most.
        if (_judgedDays != facts.Power.Days || _judgedTests != facts.Power.Tested)
        {
            (_judgedDays, _judgedTests) = (facts.Power.Days, facts.Power.Tested);
            _weak = WeakPanel.Judge(facts, context.Setup);
            double more = context.Setup.Rules.ExtraLoadShare;
            _extra = (ExtraLoad.IsOn(facts, more), ExtraLoad.IsClear(facts, more));
            double? held = AgedBattery.HoldsWattHours(facts) / power.CapacityWh;
            _aged = (held < AgedBattery.OnUnder, held is null or >= AgedBattery.OffFrom);
        }

        bool isDark = DisconnectedPanel.IsOn(facts);
        Judge(
            Rule.WeakPanel, "", isDark || _weak.IsOn, !isDark && _weak.IsClear, now,
            () => isDark ? DisconnectedPanel.Evidence(facts) : WeakPanel.Evidence(facts, context.Setup));
        Judge(Rule.ExtraLoad, "", _extra.IsOn, _extra.IsClear, now, () => ExtraLoad.Evidence(facts));
        Judge(Rule.AgedBattery, "", _aged.IsOn, _aged.IsClear, now, () => AgedBattery.Evidence(facts, power));

        Urgency? cold = ColdBattery.Judge(facts, power, now);
        bool isWarm = ColdBattery.IsClear(facts, power, now);
        Urgency? urgency = Move(Rule.LowCharge, ColdBattery.Part, slot =>
        {
            slot.Soon = slot.Soon.Next(cold == Urgency.DueSoon, isWarm, now, TimeSpan.Zero, now);
            slot.Raise = slot.Raise.Next(cold == Urgency.NeedsVisit, isWarm, now, TimeSpan.Zero, now);
        });
        Show(Rule.LowCharge, ColdBattery.Part, urgency, _ => ColdBattery.Evidence(facts, power));
    }

    private void Judge(Rule rule, string part, bool isOn, bool isClear, DateTimeOffset now, Func<Evidence?> evidence)
    {
        Urgency? urgency = Move(rule, part, slot => slot.Raise = slot.Raise.Next(isOn, isClear, now, TimeSpan.Zero, now));
        Show(rule, part, urgency, _ => evidence());
    }
}
