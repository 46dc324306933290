using System.Globalization;
using StationFleet.Domain.Watch;

namespace StationFleet.Web.Watch;

/// <summary>The rules in one sentence each, and limits as people read and write them.</summary>
internal static class RuleTexts
{
    public static string NameOf(Rule rule) => rule switch
    {
        Rule.IdleTool => "Idle tool",
        Rule.TankFilling => "Tank filling",
        Rule.LowCharge => "Low charge",
        Rule.NotReporting => "Not reporting",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "An unknown rule."),
    };

    public static string Sentence(Rule rule) => rule switch
    {
        Rule.IdleTool => "A tool that nobody has used for this many days, while the other tools of its station were used this often, may be missing or broken: a ticket.",
        Rule.TankFilling => "A tank whose last two readings reach the first share of its capacity is due soon; at the second it is a ticket.",
        Rule.LowCharge => "A battery that stays under the first state of charge for an hour is due soon; under the second it is a ticket.",
        Rule.NotReporting => "A station that has sent nothing for this many hours is silent: a ticket.",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "An unknown rule."),
    };

    /// <summary>A share, 0 to 1, as percent without the sign.</summary>
    public static string Percent(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture);

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

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

        Compare("idle after", Number(before.IdleAfterDays), Number(after.IdleAfterDays), " days");
        Compare("other uses", Number(before.IdleMinOtherUses), Number(after.IdleMinOtherUses), "");
        Compare("tank due soon", Percent(before.TankSoonShare), Percent(after.TankSoonShare), " %");
        Compare("tank ticket", Percent(before.TankRaiseShare), Percent(after.TankRaiseShare), " %");
        Compare("charge due soon", Percent(before.ChargeSoonShare), Percent(after.ChargeSoonShare), " %");
        Compare("charge ticket", Percent(before.ChargeRaiseShare), Percent(after.ChargeRaiseShare), " %");
        Compare("silent after", Number(before.SilentAfterHours), Number(after.SilentAfterHours), " hours");
        return changed;
    }
}
