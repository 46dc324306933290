using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service;

/// <summary>What a person must not get hurt by, in short lines, for the ticket page and the mail.</summary>
/// <remarks>
/// Basis: 29 CFR 1910.147 (lock-out), 1926.441 (lead-acid batteries), 1910.242(b) (compressed air), the lifting limit of 51 lb in
/// DHHS (NIOSH) 94-110, 1926.1053(b) (ladders, from memory); the others are common practice, no source. The lines never say that work is safe.
/// </remarks>
public static class Cautions
{
    /// <summary>Stands under every list of cautions.</summary>
    public const string Deference =
        "Your agency’s rules and local codes come first. Electrical work is for qualified persons under them.";

    private const string Ramp = "Keep clear of backing trailers; wear a high-visibility vest; the ramp is slippery when wet.";
    private const string Box = "Before opening the box: isolate panel and battery, lock out, and measure zero.";
    private const string LivePanel = "The panel is live whenever there is light: cover it or open its disconnect; an arc of direct current does not go out by itself.";
    private const string LeadAcid = "Lead-acid: air the box, no sparks or flames, face shield and gloves; a swollen, frozen or damaged battery stays untouched.";
    private const string Lithium = "Lithium: never charge it below freezing, never open it; a swollen or damaged one is taken out of service, outdoors.";
    private const string BareMetal = "Take off rings and watch; insulated tools; negative off first and on last.";
    private const string Ladder = "Ladder one out to four up, three points of contact, not in wind or wet, away from overhead lines.";
    private const string Gloves = "Puncture-resistant gloves and eye protection: hooks, glass, wire.";

    /// <summary>What the water in a tank weighs now, in both units: whoever thinks of lifting it should read a number.</summary>
    /// <param name="litres">Litres in the tank.</param>
    public static string Mass(double litres)
    {
        string Say(UnitSystem system) => $"{NumberWords.Figures(Units.WaterMassFor(litres, system))} {Units.MassUnit(system)}";
        return $"The water in it weighs about {Say(UnitSystem.UsCustomary)} ({Say(UnitSystem.Metric)}); drum and sludge come on top.";
    }

    /// <summary>The cautions of a rule, the worst first.</summary>
    /// <param name="rule">The rule.</param>
    public static IReadOnlyList<string> For(Rule rule) => rule switch
    {
        Rule.IdleTool or Rule.StationUnused or Rule.FallingUse or Rule.RunawayCounter => [Box, "The blower: eye and hearing protection; never point it at people.", Gloves, Ramp],
        Rule.TankFilling =>
        [
            "Pump the tank out; never lift or tip it. A part-full tank surges.",
            "Sheen or fuel smell: stop, do not pump, call the office.",
            "Take the water to the approved place, never to the lake, a ditch or a storm drain. Wash your hands.",
            Gloves,
            Ramp,
        ],
        Rule.TankSensor =>
        [
            "Never enter the tank or lean into it; a foul tank gives off gases: stand upwind and let it air.",
            "A sensor in the tank's lid is live: isolate the box before you unplug it.",
            "Pump a full tank out before you work on it; never lift or tip it.",
            Gloves,
            Ramp,
        ],
        Rule.LowCharge or Rule.AgedBattery => [Box, LivePanel, LeadAcid, Lithium, BareMetal, Ladder],
        Rule.WeakPanel => [LivePanel, Ladder, Box, BareMetal, Ramp],
        Rule.ExtraLoad => [Box, LivePanel, BareMetal, Ramp],
        Rule.ClockWrong => [Box, Ramp],
        Rule.Moved => ["Two people; call ahead. If it was taken, leave things as they are and call the office.", "Never lift a full tank: pump it out before the station is moved.", Ramp],
        Rule.SampleDue => SampleCautions.AtTheTank,
        Rule.NewFind => SampleCautions.AtTheBench,
        Rule.PublicReport =>
        [
            "Sheen or fuel smell: stop, switch nothing, keep people away, call the office.",
            Box,
            "The blower: eye and hearing protection; never point it at people.",
            Gloves,
            Ramp,
        ],
        Rule.NotReporting => [Box, Ladder, Ramp],
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "There is no such rule."),
    };
}
