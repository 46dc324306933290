namespace StationFleet.Domain.Sampling;

/// <summary>What a person who takes, keeps or counts a sample must not get hurt by.</summary>
/// <remarks>
/// Ethanol is flammable and kept from ignition sources: 29 CFR 1910.106 (flammable liquids), 1910.1200 (hazard communication);
/// formalin: 29 CFR 1910.1048. Limits on flammable goods in parcels: 49 CFR 173.150. The others are common practice, no source.
/// The lines never say that work is safe.
/// </remarks>
public static class SampleCautions
{
    /// <summary>Stands under every list of cautions.</summary>
    public const string Deference = "Your agency’s rules and local codes come first, then the safety data sheet.";

    /// <summary>At the tank.</summary>
    public static IReadOnlyList<string> AtTheTank { get; } =
    [
        "Never enter the tank or lean into it; a foul tank gives off gases: stand upwind and let it air.",
        "Sheen or fuel smell: stop, take no sample, call the office.",
        "Waste water: gloves and eye protection; wash your hands before you eat. Hooks and glass may be in it.",
        "Ethanol burns and its vapour carries: no flame, spark or running engine near it, not in a closed hot car; gloves, eye protection, tight lid, label on the jar.",
        "Keep clear of backing trailers; the ramp is slippery when wet.",
        "What you use goes to no other water before it is cleaned: rinse and disinfect by your agency’s protocol, away from the lake.",
    ];

    /// <summary>At the bench.</summary>
    public static IReadOnlyList<string> AtTheBench { get; } =
    [
        "Ethanol: no flame or hot lamp beside an open jar; ventilate; gloves and eye protection. Formalin only under a fume hood.",
        "No acid on mussel samples (vinegar, acid Lugol): it dissolves shells and what makes them shine between crossed polarisers.",
        "Nothing living goes down the drain: kill and dispose of it by your agency’s protocol; keep the specimen of anything new.",
    ];

    /// <summary>When jars travel.</summary>
    public static IReadOnlyList<string> OnTheWay { get; } =
    [
        "Ethanol in a parcel is a dangerous good: ask the courier which quantity, package and label it takes.",
    ];
}
