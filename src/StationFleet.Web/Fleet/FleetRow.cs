using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Fleet;

/// <summary>One station as lists show it.</summary>
/// <param name="Code">The station's code.</param>
/// <param name="Place">Where it stands, or that it stands nowhere.</param>
/// <param name="Condition">The one word for how it is.</param>
/// <param name="LastHeard">When its last report arrived.</param>
/// <param name="UsesYesterday">Uses of all tools on the last whole local day; null when nothing was measured.</param>
/// <param name="LastDays">The same for the last 14 whole days, oldest first.</param>
/// <param name="FillShare">Share of the tank's capacity.</param>
/// <param name="TankWhen">When the tank will be full, in a few words; null when that is not known.</param>
/// <param name="TankRaiseShare">The share that raises a ticket.</param>
/// <param name="ChargeShare">State of charge.</param>
/// <param name="OpenTickets">Tickets that are not closed.</param>
public sealed record FleetRow(
    string Code,
    string Place,
    StationCondition Condition,
    DateTimeOffset? LastHeard,
    double? UsesYesterday,
    IReadOnlyList<double?> LastDays,
    double? FillShare,
    string? TankWhen,
    double TankRaiseShare,
    double? ChargeShare,
    int OpenTickets);
