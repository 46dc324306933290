namespace StationFleet.Domain.Sampling;

/// <summary>What is in the jar.</summary>
public enum SampleKind
{
    /// <summary>Tank water of one independent dip, or of several dips poured together.</summary>
    Grab,

    /// <summary>Clean water poured through the same gear: what is in it came from the gear.</summary>
    Blank,

    /// <summary>Plants and snails picked out of the tank or its screen; not of a volume.</summary>
    Pieces,
}

/// <summary>How a kind of organism is looked for.</summary>
public enum CountedAs
{
    /// <summary>Counted in aliquots under a microscope.</summary>
    Aliquots,

    /// <summary>Picked out by eye: presence, fragments, weight.</summary>
    Pieces,
}

/// <summary>The stage of life that was counted.</summary>
public enum LifeStage
{
    /// <summary>Not told apart.</summary>
    Any,

    /// <summary>The swimming larva of a mussel.</summary>
    Veliger,

    /// <summary>Settled, not grown.</summary>
    Juvenile,

    /// <summary>Grown.</summary>
    Adult,

    /// <summary>An egg that rests until conditions suit it.</summary>
    RestingEgg,
}

/// <summary>How sure the person is who identified it.</summary>
public enum Confidence
{
    /// <summary>No doubt.</summary>
    Certain,

    /// <summary>More likely than not.</summary>
    Probable,

    /// <summary>A second look is needed.</summary>
    Tentative,
}

/// <summary>What keeps the organisms from decaying.</summary>
public enum Preservation
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Ice or a refrigerator.</summary>
    Cooled,

    /// <summary>Ethanol.</summary>
    Ethanol,

    /// <summary>Formalin with a buffer.</summary>
    BufferedFormalin,

    /// <summary>Lugol's iodine.</summary>
    Lugol,

    /// <summary>Something else, told in the note.</summary>
    Other,
}

/// <summary>How far a new find has been verified.</summary>
public enum FindState
{
    /// <summary>Somebody saw it; nobody has verified it.</summary>
    Presumptive,

    /// <summary>Verified; the agency has not yet let it be told.</summary>
    Confirmed,

    /// <summary>The agency lets it be told.</summary>
    Releasable,

    /// <summary>It was something else.</summary>
    NotConfirmed,
}
