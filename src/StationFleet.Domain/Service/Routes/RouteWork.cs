using StationFleet.Domain.Quantities;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service.Routes;

/// <summary>What a rule's ticket asks of a day: how long, what to bring, how soon (common practice, no source).</summary>
public static class RouteWork
{
    private const double NearlyFull = 0.95;
    private const double NearlyEmpty = 0.2;
    private static readonly TimeSpan Long = TimeSpan.FromDays(7);

    /// <summary>How long the work takes [min], unless people set another time.</summary>
    /// <param name="rule">The rule.</param>
    public static int Minutes(Rule rule) => rule switch
    {
        Rule.ClockWrong => 15,
        Rule.FallingUse or Rule.NewFind => 20,
        Rule.IdleTool or Rule.StationUnused or Rule.PublicReport => 25,
        Rule.SampleDue => 30,
        Rule.RunawayCounter or Rule.TankSensor => 35,
        Rule.LowCharge or Rule.WeakPanel or Rule.ExtraLoad or Rule.NotReporting or Rule.Moved => 40,
        Rule.TankFilling or Rule.AgedBattery => 45,
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "There is no such rule."),
    };

    /// <summary>What to put into the truck for a ticket.</summary>
    /// <param name="evidence">Its numbers, which name the tool.</param>
    public static IReadOnlyList<string> Bring(Evidence evidence) => evidence switch
    {
        IdleToolEvidence tool => [$"spare: {tool.ToolName}", OutOfOrder],
        FallingUseEvidence tool => [$"spare: {tool.ToolName}", "cleaning gear"],
        RunawayCounterEvidence tool => [$"spare counter switch for {tool.ToolName}", Meter],
        StationUnusedEvidence => [Meter, OutOfOrder],
        TankFillingEvidence => ["pump and hose", "transport tank", "cleaning gear", "sample kit"],
        TankDipEvidence or TankStillEvidence or TankJumpingEvidence or TankCreepEvidence => ["dip stick", "cleaning gear", Meter],
        WeakPanelEvidence => ["cloth and water for the panel", "ladder", Meter],
        NoPanelEvidence => ["panel connectors and fuses", "ladder", Meter],
        ExtraLoadEvidence => [Meter],
        AgedBatteryEvidence or ColdBatteryEvidence => ["charged spare battery", Meter],
        SampleDueEvidence due => [.. SampleKit(due.Grabs)],
        NewFindEvidence => ["sample kit"],
        LowChargeEvidence => ["charged spare battery", Meter, "cloth and water for the panel"],
        NotReportingEvidence => ["spare aerial and cable", Meter, "an empty logger card"],
        ClockWrongEvidence => ["clock battery"],
        PublicReportEvidence tool => tool.ToolName.Length == 0 ? [Meter, OutOfOrder] : [$"spare: {tool.ToolName}", OutOfOrder],
        MovedEvidence => ["a second person", "lock and chain"],
        _ => [],
    };

    /// <summary>How soon somebody ought to go.</summary>
    /// <param name="evidence">The ticket's numbers.</param>
    /// <param name="age">Since when it is raised.</param>
    /// <param name="isReopened">Whether it came back after it had been closed.</param>
    public static RoutePriority Priority(Evidence evidence, TimeSpan age, bool isReopened)
    {
        RoutePriority priority = evidence switch
        {
            MovedEvidence => RoutePriority.Urgent,
            TankFillingEvidence tank => tank.FillShare >= NearlyFull ? RoutePriority.Urgent : RoutePriority.Usual,
            LowChargeEvidence charge => charge.ChargeShare <= NearlyEmpty ? RoutePriority.Urgent : RoutePriority.Usual,
            FallingUseEvidence or ClockWrongEvidence or TankDipEvidence or TankJumpingEvidence or WeakPanelEvidence or AgedBatteryEvidence => RoutePriority.CanWait,
            _ => RoutePriority.Usual,
        };

        // What waits for a week, or came back, has waited its turn.
        return priority == RoutePriority.CanWait && (age >= Long || isReopened) ? RoutePriority.Usual
            : priority == RoutePriority.Usual && (age >= Long || isReopened) ? RoutePriority.Urgent
            : priority;
    }

    private static string[] SampleKit(int? grabs) =>
    [
        "mesh net",
        grabs is { } count ? $"sample bottles: {NumberWords.Count(count)}, and one for the blank" : "sample bottles, and one for the blank",
        "preservative",
        "labels",
        "clean water for the blank",
        "gloves and eye protection",
    ];

    private const string Meter = "multimeter and insulated tools";
    private const string OutOfOrder = "sign “out of order”";
}
