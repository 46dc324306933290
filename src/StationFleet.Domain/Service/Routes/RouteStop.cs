using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Service.Routes;

/// <summary>An access to drive to, with all that is to be done there: several problems, several stations, one stop.</summary>
/// <param name="Access">The access.</param>
/// <param name="Place">Where it is.</param>
/// <param name="Needs">Why, the most urgent first; never empty.</param>
/// <param name="Minutes">Time there, with unpacking [min].</param>
public sealed record RouteStop(AccessId Access, RoutePlace Place, IReadOnlyList<RouteNeed> Needs, int Minutes)
{
    /// <summary>The most urgent of its reasons decides.</summary>
    public RoutePriority Priority => Needs.Min(need => need.Priority);

    /// <summary>The codes of its stations.</summary>
    public IReadOnlyList<string> Stations => [.. Needs.Select(need => need.Station).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>What to put into the truck for it.</summary>
    public IReadOnlyList<string> Bring => [.. Needs.SelectMany(need => need.Bring).Distinct()];

    /// <summary>What a person must not get hurt by there.</summary>
    public IReadOnlyList<string> Cautions => [.. Needs.SelectMany(need => need.Cautions).Distinct()];

    /// <summary>Puts reasons together by access.</summary>
    /// <param name="needs">The reasons.</param>
    /// <param name="places">Where the accesses are; reasons elsewhere are passed over.</param>
    /// <param name="settings">The time to unpack.</param>
    /// <returns>By access.</returns>
    public static IReadOnlyList<RouteStop> Group(
        IEnumerable<RouteNeed> needs, IReadOnlyDictionary<AccessId, RoutePlace> places, RouteSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return
        [
            .. needs.GroupBy(need => need.Access)
                .Where(group => places.ContainsKey(group.Key))
                .OrderBy(group => group.Key.Value)
                .Select(group => new RouteStop(
                    group.Key,
                    places[group.Key],
                    [.. group.OrderBy(need => need.Priority).ThenBy(need => need.Station, StringComparer.Ordinal).ThenBy(need => need.Ticket)],
                    settings.MinutesToUnpack + group.Sum(need => need.Minutes))),
        ];
    }

    /// <summary>The stop as bare numbers of a day.</summary>
    /// <param name="start">The day's start.</param>
    /// <remarks>A time that is over when the day starts can no longer be kept: the stop then is urgent instead.</remarks>
    internal RouteProblemStop InDay(DateTimeOffset start)
    {
        DateTimeOffset? from = Needs.Max(need => need.NotBefore);
        List<DateTimeOffset> by = [.. Needs.Select(need => need.Before).OfType<DateTimeOffset>()];
        bool isLate = by.Exists(before => before <= start);
        DateTimeOffset? to = by.Where(before => before > start && !(before < from)).Select(before => (DateTimeOffset?)before).Min();
        return new RouteProblemStop(Minutes * 60, Seconds(from, start, 0), Seconds(to, start, RouteProblem.Never), isLate ? RoutePriority.Urgent : Priority);
    }

    private static int Seconds(DateTimeOffset? at, DateTimeOffset start, int otherwise) =>
        at is { } instant ? (int)Math.Clamp((instant - start).TotalSeconds, 0, RouteProblem.Never) : otherwise;
}
