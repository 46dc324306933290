using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Service.Routes;

/// <summary>One reason to drive to a station: an open ticket, a forecast due date, a sample that is due.</summary>
/// <param name="Access">Where the station stands.</param>
/// <param name="Station">Its code.</param>
/// <param name="Reason">Why, in a sentence with its numbers.</param>
/// <param name="Minutes">How long the work takes [min].</param>
/// <param name="Priority">What it gives way to.</param>
public sealed record RouteNeed(AccessId Access, string Station, string Reason, int Minutes, RoutePriority Priority)
{
    /// <summary>The ticket's number; null when it is about something else.</summary>
    public int? Ticket { get; init; }

    /// <summary>The work cannot begin before; null: at any time.</summary>
    public DateTimeOffset? NotBefore { get; init; }

    /// <summary>The work ought to begin by then, such as before the tank is full; null: no such time.</summary>
    public DateTimeOffset? Before { get; init; }

    /// <summary>What to put into the truck.</summary>
    public IReadOnlyList<string> Bring { get; init; } = [];

    /// <summary>What a person must not get hurt by.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>A place on the plan: an access, or a yard where days start and end.</summary>
/// <param name="Key">The name by which driving times are looked up: «access/3», «yard/1».</param>
/// <param name="Name">How people call it.</param>
/// <param name="LatitudeDeg">WGS 84 latitude [°].</param>
/// <param name="LongitudeDeg">WGS 84 longitude [°].</param>
public sealed record RoutePlace(string Key, string Name, double LatitudeDeg, double LongitudeDeg)
{
    /// <summary>The key of an access.</summary>
    /// <param name="access">The access.</param>
    public static string KeyOf(AccessId access) => FormattableString.Invariant($"access/{access.Value}");

    /// <summary>The key of a yard.</summary>
    /// <param name="yard">Its number.</param>
    public static string KeyOfYard(int yard) => FormattableString.Invariant($"yard/{yard}");
}
