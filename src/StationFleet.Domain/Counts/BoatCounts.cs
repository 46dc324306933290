using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Counts;

/// <summary>Hours of one kind at one station, and the shifts that were counted in them.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Kind">Which hours.</param>
/// <param name="Hours">How many there were in required time [h].</param>
/// <param name="Shifts">The shifts; none when nobody counted then.</param>
public sealed record CountedHours(string Station, CountHours Kind, double Hours, IReadOnlyList<CountShift> Shifts);

/// <summary>What count shifts tell of a season's boats, at one station or at several together; docs/counts.md.</summary>
public sealed record BoatCounts
{
    /// <summary>Nobody counted.</summary>
    public static BoatCounts None { get; } = new();

    /// <summary>Every kind of hours at the stations where somebody counted.</summary>
    public IReadOnlyList<CountedHours> Parts { get; private init; } = [];

    /// <summary>Tool uses for each boat that used the station, with limits; null when the shifts cannot bound it.</summary>
    public Bounded? UsesPerBoat { get; private init; }

    /// <summary>Boats that used the stations in the season, with limits; null when the shifts cannot bound it.</summary>
    public Bounded? Boats { get; private init; }

    /// <summary>Share of leaving boats that used the station, in the kinds of hours that have shifts; null when it cannot be told.</summary>
    public StratifiedShare? Share { get; private init; }

    /// <summary>Stations with shifts too few to tell boats from uses, by code.</summary>
    public IReadOnlyList<string> WithoutBoats { get; private init; } = [];

    /// <summary>The shifts.</summary>
    public IEnumerable<CountShift> Shifts => Parts.SelectMany(part => part.Shifts);

    /// <summary>Hours that somebody counted [h].</summary>
    public double HoursCounted => Shifts.Sum(shift => shift.Hours);

    /// <summary>Kinds of hours in which nobody counted: the share is not of these.</summary>
    public IEnumerable<CountedHours> Missing => Parts.Where(part => part.Shifts.Count == 0 && part.Hours > 0);

    /// <summary>Share of the hours from 6 to 21 that are of a kind with shifts; null when nobody counted.</summary>
    public double? Coverage => Parts.Sum(part => part.Hours) is > 0 and var all ? 1 - (Missing.Sum(part => part.Hours) / all) : null;

    /// <summary>One station's.</summary>
    /// <param name="code">The station's code.</param>
    /// <param name="shifts">Its shifts of the season.</param>
    /// <param name="window">The season.</param>
    /// <param name="required">Required time in it.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <param name="uses">Uses of all tools in the season, by the counters.</param>
    public static BoatCounts Of(
        string code, IReadOnlyList<CountShift> shifts, UtcInterval window, IReadOnlyList<UtcInterval> required, TimeZoneInfo zone, double uses)
    {
        ArgumentNullException.ThrowIfNull(shifts);
        if (shifts.Count == 0)
        {
            return None;
        }

        ILookup<CountHours, CountShift> byKind = shifts.ToLookup(shift => shift.Kind(zone));
        CountedHours[] parts = [.. CountHours.All.Select(kind => new CountedHours(code, kind, kind.In(window, required, zone), [.. byKind[kind]]))];
        Bounded? perBoat = PerBoat(shifts);
        return new BoatCounts
        {
            Parts = parts,
            UsesPerBoat = perBoat,
            Boats = perBoat is { } ratio ? new Bounded(uses / ratio.Value, uses / ratio.High, uses / ratio.Low) : null,
            Share = ShareOf(parts),
            WithoutBoats = perBoat is null ? [code] : [],
        };
    }

    /// <summary>Several stations' together. Boats are those of the stations that can tell them; no station stands for another.</summary>
    /// <param name="each">Each station's.</param>
    public static BoatCounts Together(IEnumerable<BoatCounts> each)
    {
        BoatCounts[] counted = [.. each.Where(one => one.Parts.Count > 0)];
        Bounded[] boats = [.. counted.Select(one => one.Boats).OfType<Bounded>()];
        CountedHours[] parts = [.. counted.SelectMany(one => one.Parts)];
        return new BoatCounts
        {
            Parts = parts,
            UsesPerBoat = PerBoat([.. counted.SelectMany(one => one.Shifts)]),
            Boats = boats.Length > 0 ? Mover.Sum(boats) : null,
            Share = ShareOf(parts),
            WithoutBoats = [.. counted.SelectMany(one => one.WithoutBoats)],
        };
    }

    // Shifts are the units: the boats of one shift use the station in the same way, more or less.
    private static Bounded? PerBoat(IReadOnlyCollection<CountShift> shifts) =>
        RatioEstimate.Of([.. shifts.Where(shift => shift.ToolUses is not null).Select(shift => ((double)shift.BoatsAtStation, (double)shift.ToolUses!.Value))])
            is { Ratio: { Low: > 0, High: < double.PositiveInfinity } ratio } ? ratio : null;

    /// <summary>The share of leaving boats in some kinds of hours together; null when it cannot be told.</summary>
    /// <param name="parts">The hours with their shifts.</param>
    public static StratifiedShare? ShareOf(IEnumerable<CountedHours> parts) => StratifiedShare.Of(
    [
        .. parts.Where(part => part.Shifts.Count > 0 && part.Hours > 0).Select(part => new ShareStratum(
            part.Hours, [.. part.Shifts.Select(shift => new ShareCluster(shift.BoatsAtStation, shift.BoatsLeaving, shift.Hours))])),
    ]);
}
