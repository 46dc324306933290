namespace StationFleet.Domain.Fleet;

/// <summary>The one word that says how a station is; shown with an icon and a colour, never by colour alone.</summary>
public enum StationCondition
{
    /// <summary>Nothing is wrong and nothing is about to be.</summary>
    Working,

    /// <summary>A problem is coming, but nobody has to drive today.</summary>
    DueSoon,

    /// <summary>A ticket is open and not snoozed.</summary>
    NeedsVisit,

    /// <summary>The station has been silent for longer than its rule allows.</summary>
    NotReporting,

    /// <summary>The station stands at no access at present.</summary>
    InTransit,

    /// <summary>The access is closed: low water, fire, works.</summary>
    AccessClosed,

    /// <summary>The station is laid up for the winter.</summary>
    Winterized,
}

/// <summary>What decides a station's condition.</summary>
/// <param name="IsWinterized">Laid up for the winter.</param>
/// <param name="IsPlaced">Stands at an access.</param>
/// <param name="IsAccessClosed">The access where it stands is closed.</param>
/// <param name="IsSilent">A Not reporting problem is on.</param>
/// <param name="HasOpenTicket">At least one ticket is open and not snoozed.</param>
/// <param name="HasDueSoon">At least one due-soon problem is on.</param>
public readonly record struct ConditionFacts(
    bool IsWinterized, bool IsPlaced, bool IsAccessClosed, bool IsSilent, bool HasOpenTicket, bool HasDueSoon)
{
    /// <summary>
    /// The condition, by precedence: Winterized, In transit, Access closed, Not reporting, Needs a visit, Due soon, Working.
    /// </summary>
    public StationCondition Condition => this switch
    {
        { IsWinterized: true } => StationCondition.Winterized,
        { IsPlaced: false } => StationCondition.InTransit,
        { IsAccessClosed: true } => StationCondition.AccessClosed,
        { IsSilent: true } => StationCondition.NotReporting,
        { HasOpenTicket: true } => StationCondition.NeedsVisit,
        { HasDueSoon: true } => StationCondition.DueSoon,
        _ => StationCondition.Working,
    };
}
