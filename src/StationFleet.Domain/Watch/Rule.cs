namespace StationFleet.Domain.Watch;

/// <summary>The rules of the watch.</summary>
public enum Rule
{
    /// <summary>A tool is passed over while others are used.</summary>
    IdleTool,

    /// <summary>The waste tank fills up.</summary>
    TankFilling,

    /// <summary>The battery runs low.</summary>
    LowCharge,

    /// <summary>The station is silent.</summary>
    NotReporting,
}

/// <summary>What a problem asks of people.</summary>
public enum Urgency
{
    /// <summary>Worth knowing; no ticket yet.</summary>
    DueSoon,

    /// <summary>A person has to go: raises a ticket.</summary>
    NeedsVisit,
}
