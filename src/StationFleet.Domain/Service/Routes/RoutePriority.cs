namespace StationFleet.Domain.Service.Routes;

/// <summary>What is left for another day when a day is too short: the last of these first.</summary>
public enum RoutePriority
{
    /// <summary>Ought to be done today.</summary>
    Urgent,

    /// <summary>In its turn.</summary>
    Usual,

    /// <summary>Can wait.</summary>
    CanWait,
}
