namespace StationFleet.Domain.Service;

/// <summary>Whose hours a visit takes, as grant reports ask for them.</summary>
public enum HoursKind
{
    /// <summary>Paid by the award.</summary>
    Paid,

    /// <summary>Paid by the agency, counted as its share.</summary>
    Match,

    /// <summary>Given for nothing.</summary>
    Volunteer,
}
