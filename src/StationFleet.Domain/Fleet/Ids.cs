namespace StationFleet.Domain.Fleet;

/// <summary>Identifies one agency that owns, runs or hosts stations.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct AgencyId(int Value);

/// <summary>Identifies one public access where a station can stand.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct AccessId(int Value);

/// <summary>Identifies one station; not interchangeable with any other number.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct StationId(int Value);

/// <summary>Identifies one placement: a station at an access from an instant on.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct PlacementId(int Value);

/// <summary>Identifies one ticket.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct TicketId(int Value);
