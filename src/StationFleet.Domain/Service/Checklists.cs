using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service;

/// <summary>The default steps for each rule's ticket (common practice, no source).</summary>
public static class Checklists
{
    /// <summary>The steps of a rule, in order.</summary>
    /// <param name="rule">The rule.</param>
    public static IReadOnlyList<string> For(Rule rule) => rule switch
    {
        Rule.IdleTool =>
        [
            "Is the tool there, on its hook and whole?",
            "Use it once: does it work, and does its count rise?",
            "Mend or replace it; else put up the sign “out of order”.",
            "Count the other tools on the post.",
        ],
        Rule.TankFilling =>
        [
            "Take the tank sample first, if one is due.",
            "Pump out, rinse, close the valve.",
            "Write down how much came out.",
            "Test run: does the vacuum pull?",
        ],
        Rule.LowCharge =>
        [
            "Look at the panel: shade, dirt, a loose connector.",
            "Measure the panel and the battery; write both down.",
            "Look for a load that stays on.",
            "Charge or replace the battery if it does not recover.",
        ],
        Rule.NotReporting =>
        [
            "Is the station there, upright and undamaged?",
            "Has the controller power? Look at its light.",
            "Look at the aerial and its cable.",
            "Restart the controller; wait for one report.",
            "Take the logger card along, so that the gap can be filled.",
        ],
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "There is no such rule."),
    };
}
