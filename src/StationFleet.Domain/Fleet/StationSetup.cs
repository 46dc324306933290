using StationFleet.Domain.Power;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Fleet;

/// <summary>All that the watch and the season summary need to know of a station beside its measurements.</summary>
/// <param name="Code">The station's code, such as <c>COP-1</c>.</param>
/// <param name="Zone">The time zone of its access (the fleet's when it stands nowhere).</param>
/// <param name="Created">From when the station exists.</param>
/// <param name="ReportEvery">How often it is meant to report.</param>
/// <param name="Tools">The tools that hang on it now.</param>
/// <param name="Tank">Its waste tanks and the calibrations of their sensors, each from its date on.</param>
/// <param name="Power">Its battery and panel, when known.</param>
/// <param name="Rules">The limits of the watch.</param>
/// <param name="Quiet">When the station was not required: winterized, in transit, its access closed; may overlap.</param>
public sealed record StationSetup(
    string Code,
    TimeZoneInfo Zone,
    DateTimeOffset Created,
    TimeSpan ReportEvery,
    IReadOnlyList<ToolSetup> Tools,
    TankHistory Tank,
    PowerSetup? Power,
    RuleSettings Rules,
    IReadOnlyList<QuietPeriod> Quiet)
{
    /// <summary>Where it stood and stands, as far as the positions of its accesses are known; in order.</summary>
    public IReadOnlyList<StandingPlace> Places { get; init; } = [];

    /// <summary>What people measured with a stick before pump-outs, beside what the sensor said; oldest first.</summary>
    public IReadOnlyList<TankDip> Dips { get; init; } = [];

    /// <summary>What people did there.</summary>
    public ServiceLog Service { get; init; } = ServiceLog.None;

    /// <summary>Days that are known to bring more boats, or fewer.</summary>
    public IReadOnlyList<KnownEvent> Events { get; init; } = [];

    /// <summary>Samples that are planned there, each with its end.</summary>
    public IReadOnlyList<PlannedTaking> Takings { get; init; } = [];

    /// <summary>When our own server was down: no station's silence in these times is its own.</summary>
    public IReadOnlyList<UtcInterval> ServerDown { get; init; } = [];

    /// <summary>What the panels of the stations around give; null when too few are known.</summary>
    public NeighbourPanels? NeighbourPanels { get; init; }

    /// <summary>The stations that fell silent together with this one; null when there are none.</summary>
    public SilentTogether? SilentTogether { get; init; }
}

/// <summary>An access at which a station stands for a while.</summary>
/// <param name="Name">The access's name.</param>
/// <param name="LatitudeDeg">WGS 84 latitude [°].</param>
/// <param name="LongitudeDeg">WGS 84 longitude [°].</param>
/// <param name="From">The first instant.</param>
/// <param name="To">The first instant after it; null while it lasts.</param>
public sealed record StandingPlace(string Name, double LatitudeDeg, double LongitudeDeg, DateTimeOffset From, DateTimeOffset? To)
{
    /// <summary>Whether the station stood there at an instant.</summary>
    /// <param name="instant">Any instant.</param>
    public bool Contains(DateTimeOffset instant) => From <= instant && (To is null || instant < To);
}

/// <summary>Days that are known to bring more boats than usual, or fewer: a holiday, a tournament.</summary>
/// <param name="Name">What it is.</param>
/// <param name="FirstDay">Its first local day.</param>
/// <param name="LastDay">Its last local day.</param>
/// <param name="Factor">How many times the usual sessions of such a weekday are expected; above 0.</param>
public sealed record KnownEvent(string Name, DateOnly FirstDay, DateOnly LastDay, double Factor);

/// <summary>A tool that hangs on a station.</summary>
/// <param name="Slug">Its name in reports, such as <c>brush</c>.</param>
/// <param name="Kind">What it is for.</param>
/// <param name="Name">The name the agency gave it.</param>
/// <param name="Installed">From when it hangs there.</param>
/// <param name="IdleAfterDays">A plain limit beside the statistics: idle after so many days without a use [d]; null: none.</param>
/// <param name="UsesWrapAt">The number at which its running total of uses goes back to nought; null when it has no such end.</param>
public sealed record ToolSetup(
    string Slug, ToolKind Kind, string Name, DateTimeOffset Installed, double? IdleAfterDays, double? UsesWrapAt = null);

/// <summary>Why a station is not required to work.</summary>
public enum QuietReason
{
    /// <summary>Laid up for the winter.</summary>
    Winterized,

    /// <summary>Stands at no access.</summary>
    InTransit,

    /// <summary>Its access is closed.</summary>
    AccessClosed,
}

/// <summary>A stretch of time in which a station is not required to work.</summary>
/// <param name="Reason">Why.</param>
/// <param name="From">Its first instant.</param>
/// <param name="To">The first instant after it; null while it lasts.</param>
public sealed record QuietPeriod(QuietReason Reason, DateTimeOffset From, DateTimeOffset? To)
{
    /// <summary>Whether an instant lies inside.</summary>
    /// <param name="instant">Any instant.</param>
    public bool Contains(DateTimeOffset instant) => From <= instant && (To is null || instant < To);
}
