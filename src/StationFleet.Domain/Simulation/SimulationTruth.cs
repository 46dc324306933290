using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>What really happened in a simulated stretch of time: the file <c>truth.json</c>. Its schema is docs/truth-file.schema.json.</summary>
/// <param name="Fleet">The fleet's name.</param>
/// <param name="Notice">A sentence that says that all is invented, if the fleet file has one.</param>
/// <param name="Seed">The seed.</param>
/// <param name="World">How unruly the world was.</param>
/// <param name="From">The first local day.</param>
/// <param name="To">The last local day.</param>
/// <param name="Faults">What went wrong, each fault with its true end.</param>
/// <param name="Visits">When people came, beside the pump-outs of the simulated technician.</param>
/// <param name="Days">What happened, by station and day.</param>
public sealed record SimulationTruth(
    string Fleet,
    string? Notice,
    long Seed,
    SimulatedWorldKind World,
    DateOnly From,
    DateOnly To,
    IReadOnlyList<PlannedFault> Faults,
    IReadOnlyList<PlannedVisit> Visits,
    IReadOnlyList<DayTruth> Days)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>Gathers the truth of a run.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="simulator">The simulator that ran.</param>
    /// <param name="options">The options that it ran with.</param>
    /// <param name="from">The first local day.</param>
    /// <param name="to">The last local day.</param>
    /// <param name="days">What the run told of its days.</param>
    public static SimulationTruth Of(
        FleetFile fleet, FleetSimulator simulator, SimulationOptions options, DateOnly from, DateOnly to, IReadOnlyList<DayTruth> days)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(simulator);
        ArgumentNullException.ThrowIfNull(options);
        FleetSimulation simulation = fleet.Simulation ?? new FleetSimulation();
        return new SimulationTruth(
            fleet.Name,
            fleet.Notice,
            options.Seed ?? simulation.Seed,
            simulation.World,
            from,
            to,
            [.. simulator.Stations.SelectMany(station => station.Faults)],
            [.. simulation.Visits.Concat(options.Visits ?? [])],
            days);
    }

    /// <summary>The document.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Options);

    /// <summary>Reads what <see cref="ToJson"/> wrote.</summary>
    /// <param name="json">The document.</param>
    /// <exception cref="JsonException">The text is no such document.</exception>
    public static SimulationTruth Parse(string json) =>
        JsonSerializer.Deserialize<SimulationTruth>(json, Options) ?? throw new JsonException("The truth file holds null.");
}
