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
    private readonly DateTimeOffset[] _borders;
    private readonly TimeZoneInfo _fleetZone;

    /// <summary>Makes the record of one station.</summary>
    /// <param name="stays">The station's stays, in any order; where two overlap, the one that began later counts.</param>
    /// <param name="fleetZone">The time zone of days in transit.</param>
    public Whereabouts(IEnumerable<Stay> stays, TimeZoneInfo fleetZone)
    {
        _stays = [.. stays.OrderByDescending(stay => stay.From)];
        _borders = [.. _stays.Select(stay => stay.From), .. _stays.Select(stay => stay.To).OfType<DateTimeOffset>()];
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
    public HourKey HourOf(DateTimeOffset instant) => StretchAround(instant).Key;

    /// <summary>The hour and placement of an instant, with the time around it that certainly is counted in the same.</summary>
    /// <param name="instant">The measurement's instant.</param>
    public HourStretch StretchAround(DateTimeOffset instant)
    {
        Standing standing = At(instant);
        DateTimeOffset inside = instant.AddTicks(-1);
        DateTimeOffset start = LocalCalendar.HourStart(inside, standing.Zone);
        HourKey key = new(start, LocalCalendar.DateOf(inside, standing.Zone), standing.Placement);
        (DateTimeOffset after, DateTimeOffset to) = (start, start.AddHours(1));
        if (standing.Zone.GetUtcOffset(start) != standing.Zone.GetUtcOffset(to.AddTicks(-1)))
        {
            // The clock changes within the hour: each instant must be asked for.
            return new HourStretch(key, inside, instant, standing.Zone);
        }

        foreach (DateTimeOffset border in _borders)
        {
            after = after < border && border < instant ? border : after;
            to = instant <= border && border < to ? border : to;
        }

        return new HourStretch(key, after, to, standing.Zone);
    }
}

/// <summary>A stretch of time (after, to] whose measurements are all counted in one hour.</summary>
/// <param name="Key">The hour and the placement.</param>
/// <param name="After">The last instant before the stretch.</param>
/// <param name="To">The last instant of the stretch.</param>
/// <param name="Zone">The time zone that the hour is counted by.</param>
public readonly record struct HourStretch(HourKey Key, DateTimeOffset After, DateTimeOffset To, TimeZoneInfo Zone)
{
    /// <summary>Whether a measurement of an instant is counted here; false says only that it must be asked for.</summary>
    /// <param name="instant">The measurement's instant.</param>
    public bool Holds(DateTimeOffset instant) => After < instant && instant <= To;
}
