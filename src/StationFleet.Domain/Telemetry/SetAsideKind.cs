namespace StationFleet.Domain.Telemetry;

/// <summary>Why a record could not be counted; the sentence beside it says the same with the record's own words and figures.</summary>
public enum SetAsideKind
{
    /// <summary>Another reason, told by its sentence alone.</summary>
    Other,

    /// <summary>It names no measurement, or with too many characters.</summary>
    Name,

    /// <summary>It holds text, data or a sum instead of a number.</summary>
    NoNumber,

    /// <summary>Its unit contradicts the table of names, or may not be used in a pack of its version.</summary>
    Unit,

    /// <summary>Its value is not possible for its name.</summary>
    Impossible,

    /// <summary>Its time lies more than <see cref="ReportReader.FutureTolerance"/> ahead of the server's.</summary>
    FastClock,

    /// <summary>Its time counts from 1970 as if the controller had just started, or lies ahead of now: the clock was never set.</summary>
    UnsetClock,

    /// <summary>Its time is relative to now, and the station is not marked as one without a clock.</summary>
    RelativeTime,

    /// <summary>Its time lies before the station began to exist here.</summary>
    BeforeStation,

    /// <summary>Another value is known for its name and time; the first stays.</summary>
    OtherValue,

    /// <summary>Its name would be one series more than a station may have.</summary>
    TooManySeries,

    /// <summary>Its time is final: the raw readings of that time are no longer kept.</summary>
    Final,

    /// <summary>A line of a logger's file that cannot be read.</summary>
    Unreadable,

    /// <summary>A line of a logger's file that names another station.</summary>
    OtherStation,
}
