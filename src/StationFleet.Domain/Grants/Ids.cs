namespace StationFleet.Domain.Grants;

/// <summary>Identifies one award.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct AwardId(int Value);

/// <summary>Identifies one item of the equipment register.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct EquipmentId(int Value);
