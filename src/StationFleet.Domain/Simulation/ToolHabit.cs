using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>How boaters use a tool, and what a use does.</summary>
/// <param name="Slug">The tool's name in reports.</param>
/// <param name="Share">Share of boats that use it.</param>
/// <param name="LitresPerBoat">Mean volume that a boat's use adds to the tank [L].</param>
/// <param name="WattHours">Energy of one press [Wh].</param>
internal sealed record ToolHabit(string Slug, double Share, double LitresPerBoat, double WattHours)
{
    // 1.2 gal a boat, as in the project's reference simulations (invented, no source).
    private const double VacuumLitres = 1.2 * Quantities.Units.LitresPerUsGallon;

    /// <summary>The name of its running total.</summary>
    public string UsesName { get; } = Telemetry.MeasurementName.Uses(Slug);

    public static ToolHabit Of(string station, FleetTool tool, FleetSimulation simulation)
    {
        SimulatedToolUse own = simulation.Tools.GetValueOrDefault($"{station}/{tool.Slug}") ?? new SimulatedToolUse();
        (double share, double litres, double wattHours) = tool.Kind switch
        {
            ToolKind.Vacuum => (0.30, VacuumLitres, 9.0),
            ToolKind.Grabber => (0.30, 0, 0.05),
            ToolKind.Wrench => (0.35, 0, 0.05),
            ToolKind.Brush => (0.50, 0, 0.05),
            ToolKind.Blower => (0.30, 0, 5.0),
            _ => (0.15, 0, 0.05),
        };
        return new ToolHabit(tool.Slug, own.Share ?? share, own.LitresPerBoat ?? litres, own.WattHours ?? wattHours);
    }
}
