namespace StationFleet.Domain.Sampling;

/// <summary>Identifies one sample: one grab, one blank, or the pieces picked out at one time.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct SampleId(int Value);

/// <summary>Identifies one kind of organism on an agency's list.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct TaxonId(int Value);

/// <summary>Identifies one planned sample.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct SamplePlanId(int Value);

/// <summary>Identifies one new find.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct FindId(int Value);
