using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Boaters;

/// <summary>How to use each kind of tool, in steps that a wet hand can follow (common practice, no source).</summary>
public static class ToolSteps
{
    /// <summary>The steps of a kind, in order, and last what to beware of.</summary>
    /// <param name="kind">The kind of tool.</param>
    public static IReadOnlyList<string> For(ToolKind kind) => kind switch
    {
        ToolKind.Vacuum =>
        [
            "Put the nozzle into the water in bilge, live well or ballast.",
            "Switch on; hold it there until only air comes.",
            "Hang the nozzle back.",
        ],
        ToolKind.Grabber =>
        [
            "Walk once around boat and trailer.",
            "Pull plants off propeller, axle, rollers and bunks.",
            "Put them into the bin, far from the water.",
        ],
        ToolKind.Wrench =>
        [
            "Take out the drain plug; let the water run out on land.",
            "Leave the plug out on the road.",
            "Hang the wrench back. Plug in before you launch.",
        ],
        ToolKind.Brush =>
        [
            "Brush mud and plants off hull, trailer, boots and gear.",
            "Do not sweep them towards the water.",
            "Hang the brush back.",
        ],
        ToolKind.Blower =>
        [
            "Protect your eyes and ears.",
            "Blow water out of gaps, wells and gear, then let them dry.",
            "Never point it at people or animals.",
        ],
        ToolKind.Other =>
        [
            "Use it as the note beside it says.",
            "Hang it back where it was.",
        ],
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind of tool."),
    };
}
