using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry;

/// <summary>Where a station stood at some time, and by whose clock its days are counted.</summary>
/// <param name="Placement">The placement, or null in transit.</param>
/// <param name="Zone">The time zone of the access; in transit, of the fleet.</param>
public readonly record struct Standing(PlacementId? Placement, TimeZoneInfo Zone);

/// <summary>One stay of a station at an access.</summary>
/// <param name="Placement">The placement.</param>
/// <param name="From">Its start.</param>
/// <param name="To">Its end, or null while it lasts.</param>
/// <param name="Zone">The time zone of the access.</param>
public sealed record Stay(PlacementId Placement, DateTimeOffset From, DateTimeOffset? To, TimeZoneInfo Zone);

/// <summary>The hour and the placement that a measurement is counted in.</summary>
/// <param name="Start">The local hour's start; the hour holds the instants in (start, start + 1 h].</param>
/// <param name="Day">The local day that the hour belongs to.</param>
/// <param name="Placement">The placement, or null in transit.</param>
public readonly record struct HourKey(DateTimeOffset Start, DateOnly Day, PlacementId? Placement);

/// <summary>Where one station stood over time.</summary>
/// <remarks>
/// A measurement closes the interval before it, so a stay holds the measurements in (from, to], as an hour holds those in
/// (start, end]: midnight's reading belongs to the day before.
/// </remarks>
public sealed class Whereabouts
{
    private readonly Stay[] _stays;
    private readonly TimeZoneInfo _fleetZone;

    /// <summary>Makes the record of one station.</summary>
    /// <param name="stays">The station's stays, in any order; where two overlap, the one that began later counts.</param>
    /// <param name="fleetZone">The time zone of days in transit.</param>
    public Whereabouts(IEnumerable<Stay> stays, TimeZoneInfo fleetZone)
    {
        _stays = [.. stays.OrderByDescending(stay => stay.From)];
        _fleetZone = fleetZone;
    }

    /// <summary>Where a measurement of an instant was taken.</summary>
    /// <param name="instant">The measurement's instant.</param>
    public Standing At(DateTimeOffset instant)
    {
        foreach (Stay stay in _stays)
        {
            if (stay.From < instant && (stay.To is null || instant <= stay.To))
            {
                return new Standing(stay.Placement, stay.Zone);
            }
        }

        return new Standing(null, _fleetZone);
    }

    /// <summary>The hour and placement that a measurement of an instant is counted in.</summary>
    /// <param name="instant">The measurement's instant.</param>
    public HourKey HourOf(DateTimeOffset instant)
    {
        Standing standing = At(instant);
        DateTimeOffset inside = instant.AddTicks(-1);
        return new HourKey(
            LocalCalendar.HourStart(inside, standing.Zone), LocalCalendar.DateOf(inside, standing.Zone), standing.Placement);
    }
}
