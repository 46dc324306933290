namespace StationFleet.Domain.Watch;

/// <summary>The rules of the watch.</summary>
public enum Rule
{
    /// <summary>A tool is passed over while others are used.</summary>
    IdleTool,

    /// <summary>Nobody uses the station, while reports come in.</summary>
    StationUnused,

    /// <summary>A tool is used clearly less than it used to be.</summary>
    FallingUse,

    /// <summary>A tool's running total rises by itself.</summary>
    RunawayCounter,

    /// <summary>The waste tank fills up.</summary>
    TankFilling,

    /// <summary>The waste tank's sensor does not tell what is in it.</summary>
    TankSensor,

    /// <summary>The battery runs low.</summary>
    LowCharge,

    /// <summary>The panel gives less than it used to, or nothing.</summary>
    WeakPanel,

    /// <summary>Something draws power at night that did not use to.</summary>
    ExtraLoad,

    /// <summary>The battery holds much less than it is rated for.</summary>
    AgedBattery,

    /// <summary>The station is silent.</summary>
    NotReporting,

    /// <summary>The station's clock is wrong.</summary>
    ClockWrong,

    /// <summary>The station stands elsewhere than at its access.</summary>
    Moved,

    /// <summary>A planned sample must be taken before its last day ends, or before the tank is emptied.</summary>
    SampleDue,

    /// <summary>A count found an organism that is not known from the water; the watch has no part in it.</summary>
    NewFind,

    /// <summary>A boater reported something and a person confirmed it; the watch has no part in it.</summary>
    PublicReport,
}

/// <summary>What a problem asks of people.</summary>
public enum Urgency
{
    /// <summary>Worth knowing; no ticket yet.</summary>
    DueSoon,

    /// <summary>A person has to go: raises a ticket.</summary>
    NeedsVisit,
}
