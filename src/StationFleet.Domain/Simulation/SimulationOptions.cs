using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>What may differ from the world that the fleet file describes.</summary>
/// <param name="Seed">Another seed; null takes the file's.</param>
/// <param name="Visits">Visits beside those of the file, such as those that people enter while the demo runs.</param>
/// <param name="TechnicianUntil">
/// From when no simulated technician comes by himself to empty tanks, because real people do; null lets him come for ever.
/// </param>
public sealed record SimulationOptions(
    long? Seed = null, IReadOnlyList<PlannedVisit>? Visits = null, DateTimeOffset? TechnicianUntil = null);
