using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>Which rules should see a fault, and which tickets a fault explains.</summary>
public static class FaultRules
{
    /// <summary>Word of a fault that is just over may still be on its way.</summary>
    private static readonly TimeSpan Echo = TimeSpan.FromHours(12);

    /// <summary>The names of the rules of which one should see a fault; none for a fault that nobody has to mend.</summary>
    /// <param name="kind">The kind of fault.</param>
    /// <remarks>Names, since a rule may not be there: then the fault is not watched for.</remarks>
    public static IReadOnlyList<string> ExpectedOf(FaultKind kind) => kind switch
    {
        FaultKind.ToolDead or FaultKind.ToolMissing => [nameof(Rule.IdleTool)],
        FaultKind.ToolWeak => [nameof(Rule.FallingUse), nameof(Rule.IdleTool)],
        FaultKind.CounterRunaway => [nameof(Rule.RunawayCounter)],
        FaultKind.TankFrozen or FaultKind.TankDrift or FaultKind.TankJumping or FaultKind.TankLeak => ["TankSensor"],
        FaultKind.PanelSoiled or FaultKind.PanelShaded or FaultKind.PanelDisconnected => [nameof(Rule.WeakPanel)],
        FaultKind.BatteryAged => [nameof(Rule.AgedBattery)],
        FaultKind.ExtraLoad => [nameof(Rule.ExtraLoad)],
        FaultKind.RadioOutage or FaultKind.SiteOutage => [nameof(Rule.NotReporting)],
        FaultKind.ClockJump => [nameof(Rule.ClockWrong)],
        FaultKind.StationUnused or FaultKind.AccessClosed => [nameof(Rule.StationUnused)],
        FaultKind.PortableMoved => [nameof(Rule.Moved)],
        _ => [],
    };

    /// <summary>Whether a notice is what should tell of a fault.</summary>
    /// <param name="fault">The fault.</param>
    /// <param name="rule">The notice's rule.</param>
    /// <param name="part">The notice's part.</param>
    public static bool IsToldBy(PlannedFault fault, Rule rule, string part)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return ExpectedOf(fault.Kind).Contains(rule.ToString()) && (fault.Tool is null || fault.Tool == part);
    }

    /// <summary>Whether a fault makes a notice true: it tells of the fault, or of what follows from it.</summary>
    /// <param name="fault">The fault.</param>
    /// <param name="rule">The notice's rule.</param>
    /// <param name="part">The notice's part.</param>
    /// <param name="at">When it was given.</param>
    public static bool Explains(PlannedFault fault, Rule rule, string part, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(fault);
        if (at < fault.From || at > (fault.To ?? DateTimeOffset.MaxValue - Echo) + Echo)
        {
            return false;
        }

        return IsToldBy(fault, rule, part) || (fault.Kind, rule) switch
        {
            (FaultKind.ToolDead or FaultKind.ToolMissing or FaultKind.ToolWeak, Rule.IdleTool or Rule.FallingUse) => fault.Tool == part,
            (FaultKind.StationUnused or FaultKind.AccessClosed or FaultKind.SiteOutage, Rule.IdleTool or Rule.FallingUse or Rule.StationUnused) => true,
            (FaultKind.TankDrift or FaultKind.TankJumping or FaultKind.TankFrozen, Rule.TankFilling) => true,
            (FaultKind.PanelSoiled or FaultKind.PanelShaded or FaultKind.PanelDisconnected or FaultKind.ExtraLoad or FaultKind.BatteryAged, Rule.LowCharge) => true,
            _ => false,
        };
    }
}
