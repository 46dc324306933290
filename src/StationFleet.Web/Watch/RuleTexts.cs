using System.Globalization;
using StationFleet.Domain.Watch;

namespace StationFleet.Web.Watch;

/// <summary>The rules in one sentence each, and limits as people read and write them.</summary>
internal static class RuleTexts
{
    public static string Sentence(Rule rule) => rule switch
    {
        Rule.IdleTool => "Use sessions pass a tool over more often than they would a healthy one: a ticket. The level follows from how many false alarms a tool may give in a season; a tool can have a plain limit of days beside it.",
        Rule.StationUnused => "Nobody uses any tool although so many sessions were expected and reports come in: due soon at the first number, a ticket at the second.",
        Rule.FallingUse => "Clearly fewer sessions pick up a tool than used to: due soon only, since habits change too.",
        Rule.RunawayCounter => "A count rises faster than anybody can press, or one tool alone counts for half an hour: a ticket.",
        Rule.TankFilling => "A tank that may be full within so many days is due soon; one that may be full before somebody gets there, or is as full as the share, is a ticket. How soon it fills is forecast from its own days.",
        Rule.TankSensor => "A sensor that stands still while water should come in, that jumps, or whose level creeps at night; a stick that read more than 5 % of the tank off it at the last pump-out: a ticket.",
        Rule.LowCharge => "A battery that stays under the first state of charge for an hour is due soon; under the second it is a ticket, and so it is when it will more likely than not be there before somebody can come. Frost that could burst or spoil the battery is a ticket, too.",
        Rule.WeakPanel => "A panel that gives less than this share of what it used to, for more days in a row than dull weather explains, while the battery asks for all it has; or nothing at all for two hours of sun: a ticket.",
        Rule.ExtraLoad => "A station that draws so much more than usual on two nights in a row: a ticket.",
        Rule.AgedBattery => "A battery whose charge falls at night as if it held less than 60 % of its rating: a ticket.",
        Rule.NotReporting => "A station that has sent nothing for this many hours is not reporting; once it is silent for much longer than in the last two months, it is a ticket.",
        Rule.ClockWrong => "A station whose reports lie in the future, or all lag by the same long while, has a wrong clock: a ticket.",
        Rule.Moved => "A station that says it stands farther than this from its access was moved without a placement: a ticket.",
        Rule.SampleDue => "A planned sample is due soon so many days before it must be taken, and a ticket so many hours before: by its last day, or before the tank is to be emptied.",
        Rule.NewFind => "A count of an organism that is not known from the water beside the station: a ticket for the biologist, at once.",
        Rule.PublicReport => "A boater reported something through the public page and a person confirmed it: a ticket.",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "An unknown rule."),
    };

    /// <summary>A share, 0 to 1, as percent without the sign.</summary>
    public static string Percent(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture);

    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>What changed between two settings, each with its old and new limit.</summary>
    public static IReadOnlyList<string> Differences(RuleSettings before, RuleSettings after)
    {
        List<string> changed = [];
        void Compare(string what, string old, string now, string unit)
        {
            if (!string.Equals(old, now, StringComparison.Ordinal))
            {
                changed.Add($"{what} from {old} to {now}{unit}");
            }
        }

        Compare("false alarms of Idle tool", Number(before.IdleFalseAlarms), Number(after.IdleFalseAlarms), " per tool and season");
        Compare("unused due soon", Number(before.UnusedSoonSessions), Number(after.UnusedSoonSessions), " sessions");
        Compare("unused ticket", Number(before.UnusedTicketSessions), Number(after.UnusedTicketSessions), " sessions");
        Compare("shortest use", Number(before.ShortestUseSeconds), Number(after.ShortestUseSeconds), " s");
        Compare("moved from", Number(before.MovedMetres), Number(after.MovedMetres), " m");
        Compare("tank due soon", Number(before.TankSoonDays), Number(after.TankSoonDays), " days ahead");
        Compare("somebody with a pump", Number(before.TankResponseHours), Number(after.TankResponseHours), " hours");
        Compare("tank ticket", Percent(before.TankRaiseShare), Percent(after.TankRaiseShare), " %");
        Compare("charge due soon", Percent(before.ChargeSoonShare), Percent(after.ChargeSoonShare), " %");
        Compare("charge ticket", Percent(before.ChargeRaiseShare), Percent(after.ChargeRaiseShare), " %");
        Compare("low battery ahead", Number(before.ChargeResponseHours), Number(after.ChargeResponseHours), " hours");
        Compare("sample due soon", Number(before.SampleSoonDays), Number(after.SampleSoonDays), " days ahead");
        Compare("somebody to sample", Number(before.SampleResponseHours), Number(after.SampleResponseHours), " hours");
        Compare("weak panel", Percent(before.WeakPanelShare), Percent(after.WeakPanelShare), " %");
        Compare("extra load", Percent(before.ExtraLoadShare), Percent(after.ExtraLoadShare), " %");
        Compare("silent after", Number(before.SilentAfterHours), Number(after.SilentAfterHours), " hours");
        return changed;
    }
}
