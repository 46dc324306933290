using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>The records that could not be counted, by station and reason, for the page Set aside.</summary>
public sealed class ReadSetAside(
    IDbContextFactory<FleetDbContext> databases, SetAsideReader reader, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>So many records of a group are shown.</summary>
    public const int MostShown = 20;

    public sealed record Item(long Id, DateTimeOffset Received, int Times, string Reason, string Raw);

    public sealed record Group(
        string Station, SetAsideKind Kind, int Count, DateTimeOffset First, DateTimeOffset Last, long Dropped, IReadOnlyList<Item> Newest);

    public sealed record View(IReadOnlyList<Group> Groups, DateTimeOffset Now, string ZoneId, bool MayDecide);

    /// <returns>The page; null when the person has no business there.</returns>
    public async Task<View?> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        if (!viewer.MayReadSetAside())
        {
            return null;
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IReadOnlyDictionary<StationId, Station> stations = await db.StationsOfAsync(viewer, null, cancel);
        List<Group> groups = [];
        foreach (SetAsideGroup group in await reader.GroupsAsync([.. stations.Keys], cancel))
        {
            IReadOnlyList<SetAsideRow> newest = await reader.ListAsync(new SetAsideChoice([group.Station], group.Kind), MostShown, cancel);
            groups.Add(new Group(
                stations[group.Station].Code,
                group.Kind,
                group.Count,
                group.First,
                group.Last,
                group.Dropped,
                [.. newest.Select(row => new Item(row.Id, row.Received, row.Times, row.Reason, row.Raw))]));
        }

        return new View(groups, clock.GetUtcNow(), options.Value.Zone.Id, viewer.MayChangeFleet());
    }

    /// <summary>How many records wait, of one station or of all that the person sees; none for a person who has no business there.</summary>
    public async Task<int> CountAsync(Viewer viewer, string? station, CancellationToken cancel)
    {
        if (!viewer.MayReadSetAside())
        {
            return 0;
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IReadOnlyDictionary<StationId, Station> stations = await db.StationsOfAsync(viewer, station, cancel);
        return (await reader.GroupsAsync([.. stations.Keys], cancel)).Sum(group => group.Count);
    }
}
