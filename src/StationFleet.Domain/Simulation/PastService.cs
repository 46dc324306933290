using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Simulation;

/// <summary>What a simulated stretch of time leaves behind at one station.</summary>
/// <param name="Tickets">The tickets, by the time of raising.</param>
/// <param name="State">The watch's state at the end.</param>
/// <param name="Checkpoints">Its checkpoints, by day.</param>
/// <param name="Problems">The problems that are on at the end.</param>
/// <param name="PumpOuts">The pump-outs that the tank's sensor saw.</param>
/// <param name="OtherVisits">Planned visits that no ticket asked for.</param>
public sealed record PastService(
    IReadOnlyList<PastTicket> Tickets,
    WatchState State,
    IReadOnlyList<FactsCheckpoint> Checkpoints,
    IReadOnlyList<Problem> Problems,
    IReadOnlyList<PumpOutSeen> PumpOuts,
    IReadOnlyList<PastVisit> OtherVisits);
