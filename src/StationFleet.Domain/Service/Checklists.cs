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
        Rule.StationUnused =>
        [
            "Can people get there? Gate, road, water level, works: if not, tell the office so that the access is marked as closed.",
            "Has the station power? Look at the breaker and the controller’s light.",
            "Use each tool once: does it work, and does its count rise?",
            "Are the signs in their place?",
        ],
        Rule.FallingUse =>
        [
            "Use the tool once: full strength, no leak, no catch?",
            "Does its count rise once for each use?",
            "Is it easy to see and to reach?",
        ],
        Rule.RunawayCounter =>
        [
            "Watch the count for a minute without touching anything.",
            "Look at the switch and its wires: stuck, wet, loose?",
            "Mend it or unplug its counter; use the tool once: does its count rise by one?",
        ],
        Rule.TankFilling =>
        [
            "Take the tank sample first, if one is due.",
            "Pump out, rinse, close the valve.",
            "Write down how much came out.",
            "Test run: does the vacuum pull?",
        ],
        Rule.TankSensor =>
        [
            "Dip the tank again: a clean stick, straight down to the bottom, read it twice.",
            "Compare with what the station page says now.",
            "Look at the sensor: dirt or drops on its face, foam, something in its way, a loose mount.",
            "Is the tank level, and is it the tank that is set up?",
            "If they still differ, take two readings for a calibration: nearly empty and nearly full.",
        ],
        Rule.LowCharge =>
        [
            "Look at the panel: shade, dirt, a loose connector.",
            "Measure the panel and the battery; write both down.",
            "Look for a load that stays on.",
            "In frost: do not charge a frozen battery, and do not charge lithium iron phosphate below freezing; take it in.",
            "Charge or replace the battery if it does not recover.",
        ],
        Rule.WeakPanel =>
        [
            "Look at the panel from the ground: dirt, leaves, snow, a cover, new shade? At what hours does the shade fall?",
            "Clean it with water and a soft cloth; do not stand on anything that wobbles.",
            "Look at connectors, cable, fuse and controller: loose, burnt, wet?",
            "Measure the panel’s voltage and current in the sun; write both down.",
            "Write down whether it was cleaned, mended or replaced: it is judged anew from then on.",
        ],
        Rule.ExtraLoad =>
        [
            "Is something switched on that should not be: a light, a pump, a charger plugged in?",
            "Measure the current with all tools off; pull one load after the other until it falls.",
            "Look for water in boxes and chafed cables.",
            "If the load is wanted, close with «nothing wrong»: it becomes the usual.",
        ],
        Rule.AgedBattery =>
        [
            "Is it the battery that is set up in Office, and are all its parts connected?",
            "Look at terminals and cable lugs: loose, corroded, warm?",
            "Measure its voltage at rest and under a load; write both down.",
            "Replace it if it does not hold; set the new one up in Office from that day.",
        ],
        Rule.ClockWrong =>
        [
            "Read the controller’s time and write it down beside your own.",
            "Set its clock, or restart it where it has signal; wait for one report.",
            "If it is wrong again the next day, the clock’s own battery is due.",
        ],
        Rule.Moved =>
        [
            "Is the station at its access? If it is, the position sensor is wrong.",
            "If it was moved on purpose, tell the office where it stands and since when.",
            "If it is gone, call the office at once; do not search alone.",
        ],
        Rule.SampleDue =>
        [
            "Is there enough water in the tank? If not, tell the office: it is planned anew.",
            "A field blank first: clean water through the same net.",
            "Stir; each grab is a dip of its own. Write the code on the jar before you fill it.",
            "Rinse the net into the jar; preserve; note mesh, litres and water temperature.",
            "Record it with «Take a sample»: then this ticket is done. Pump out only after that.",
        ],
        Rule.NewFind =>
        [
            "Keep jar, slide or fragment, labelled and preserved; take a photograph through the microscope.",
            "Have a second person identify it, from the specimen.",
            "Look at the blank of the same taking: was it clean?",
            "Tell whom your reporting rules name, in their time; write down on the find’s page who was told.",
            "Say nothing in public. Decide on the find’s page: confirmed or not, and later that it may be told.",
        ],
        Rule.PublicReport =>
        [
            "Read what was reported, and the notes that came since.",
            "Is the tool there and whole? Use it once: does it work, and does its count rise?",
            "Mend or replace it; else put up the sign “out of order”.",
            "Count the other tools on the post.",
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
