namespace StationFleet.Domain.Boaters;

/// <summary>What boaters read at the ramp, on the public page and on the sign alike.</summary>
/// <remarks>The cautions are common practice, no source; the lines never say that anything is safe.</remarks>
public static class PublicSentences
{
    /// <summary>The heading of both.</summary>
    public const string Heading = "Clean, drain, dry.";

    /// <summary>What the station does and what it does not.</summary>
    public const string Limits =
        "This station helps remove water, plants and mud. It does not decontaminate or certify your boat; "
        + "required inspections, seals and drying times still apply.";

    /// <summary>The worst thing that can be done with the vacuum.</summary>
    public const string NeverVacuum = "Never vacuum gasoline, oil or water with a sheen: fire risk.";

    /// <summary>The other cautions, the worst first.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Pull clear of the ramp, switch the engine off, and put the brake on.",
        "Keep clear of backing trailers. The ground is slippery when wet.",
        "Keep children and pets away from hose and blower.",
        "Fish hooks, glass and wire cut: look before you reach.",
    ];
}
