using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Plans a day as it was chosen: the page, its calendar and setting it share this.</summary>
internal sealed class PlanRoute(IDbContextFactory<FleetDbContext> databases, ReadRouteNeeds needs, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int MinutesForAddedStop = 20;
    private static readonly TimeSpan Quarter = TimeSpan.FromMinutes(15);

    /// <param name="Plan">The day; null when there is no yard to start from.</param>
    /// <param name="Day">Its local date.</param>
    /// <param name="StartsAt">When it starts, by the fleet's clock.</param>
    /// <param name="Closed">Stops whose access is closed then, with the reason.</param>
    /// <param name="Without">Stops that were left out by choice.</param>
    /// <param name="InTransit">Stations with open tickets that stand at no access.</param>
    /// <param name="Places">All accesses at which the viewer's stations stand.</param>
    /// <param name="Yards">Where days start and end.</param>
    internal sealed record Planned(
        RoutePlan? Plan, DateOnly Day, TimeOnly StartsAt, double Hours, IReadOnlyList<(RouteStop Stop, string Reason)> Closed, IReadOnlyList<RouteStop> Without,
        IReadOnlyList<string> InTransit, IReadOnlyDictionary<AccessId, RoutePlace> Places, IReadOnlyList<Yard> Yards, Yard? Start, Yard? End);

    public async Task<Planned> HandleAsync(Viewer viewer, RouteQuery query, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        RouteSettings settings = await RouteSettingsStore.ReadAsync(db, cancel);
        (DateOnly day, TimeOnly startsAt, double hours) = When(query, settings);
        DateTimeOffset start = LocalCalendar.InstantAt(day.ToDateTime(startsAt), options.Value.Zone)
            ?? LocalCalendar.InstantAt(day.ToDateTime(startsAt.AddHours(1)), options.Value.Zone)!.Value;
        Dictionary<AccessId, RoutePlace> places = await db.Accesses.ToDictionaryAsync(
            access => access.Id, access => new RoutePlace(RoutePlace.KeyOf(access.Id), $"{access.Name}, {access.Water}", access.Latitude, access.Longitude), cancel);
        ReadRouteNeeds.Result needed = await needs.HandleAsync(db, viewer, query.Person, start, settings, cancel);
        IReadOnlyList<RouteNeed> added = await AddedAsync(db, viewer, query, start, needed.Needs, cancel);
        IReadOnlyList<RouteStop> stops = RouteStop.Group([.. needed.Needs, .. added], places, settings);
        Dictionary<AccessId, string> closed = (await db.AccessClosures.Where(closure => closure.From <= start && (closure.To == null || closure.To > start)).ToListAsync(cancel))
            .GroupBy(closure => closure.AccessId).ToDictionary(group => group.Key, group => group.First().Reason);
        List<Yard> yards = await db.Yards.OrderBy(yard => yard.Name).ToListAsync(cancel);
        Yard? from = yards.Find(yard => yard.Id == query.StartYard) ?? yards.FirstOrDefault();
        Yard? to = yards.Find(yard => yard.Id == query.EndYard) ?? from;
        bool IsClosed(RouteStop stop) => closed.ContainsKey(stop.Access) && !query.With.Contains(stop.Access);
        RoutePlan? plan = from is null || to is null ? null : RoutePlan.Of(new RouteInput(
            from.Place, to.Place, start, [.. stops.Where(stop => !query.Without.Contains(stop.Access) && !IsClosed(stop))],
            new DrivingTimes(settings, await db.KnownDrives.ToDictionaryAsync(drive => (drive.FromKey, drive.ToKey), drive => drive.Minutes, cancel)), hours));
        return new Planned(
            plan, day, startsAt, hours,
            [.. stops.Where(IsClosed).Select(stop => (stop, closed[stop.Access]))],
            [.. stops.Where(stop => query.Without.Contains(stop.Access) && !IsClosed(stop))],
            needed.InTransit, await StandingAsync(db, viewer, start, places, cancel), yards, from, to);
    }

    // A day that has begun goes on from the next quarter of an hour to its usual end; one that is nearly over gives way to tomorrow.
    private (DateOnly Day, TimeOnly StartsAt, double Hours) When(RouteQuery query, RouteSettings settings)
    {
        DateTimeOffset now = TimeZoneInfo.ConvertTime(clock.GetUtcNow(), options.Value.Zone);
        DateOnly today = DateOnly.FromDateTime(now.DateTime);
        DateTime usual = today.ToDateTime(settings.StartsAt);
        DateTime end = usual.AddHours(settings.DayHours);
        DateTime next = new(((now.DateTime.Ticks + Quarter.Ticks - 1) / Quarter.Ticks) * Quarter.Ticks);
        DateOnly day = query.Day ?? (next.AddHours(1) > end ? today.AddDays(1) : today);
        DateTime start = query.StartsAt is { } chosen ? day.ToDateTime(chosen)
            : day == today && next > usual && next < end && DateOnly.FromDateTime(next) == today ? next
            : day.ToDateTime(settings.StartsAt);
        double left = (day.ToDateTime(settings.StartsAt).AddHours(settings.DayHours) - start).TotalHours;
        return (day, TimeOnly.FromDateTime(start), query.Hours ?? (left <= 0 ? settings.DayHours : Math.Min(left, settings.DayHours)));
    }

    private static async Task<IReadOnlyList<RouteNeed>> AddedAsync(
        FleetDbContext db, Viewer viewer, RouteQuery query, DateTimeOffset at, IReadOnlyList<RouteNeed> needs, CancellationToken cancel)
    {
        HashSet<AccessId> empty = [.. query.With.Except(needs.Select(need => need.Access))];
        return
        [
            .. (await Standing(db, viewer, at).ToListAsync(cancel)).Where(row => empty.Contains(row.Access)).OrderBy(row => row.Code, StringComparer.Ordinal)
                .Select(row => new RouteNeed(row.Access, row.Code, "Added by hand: a look round; nothing is open there.", MinutesForAddedStop, RoutePriority.Usual)),
        ];
    }

    private static async Task<IReadOnlyDictionary<AccessId, RoutePlace>> StandingAsync(
        FleetDbContext db, Viewer viewer, DateTimeOffset at, Dictionary<AccessId, RoutePlace> places, CancellationToken cancel) =>
        (await Standing(db, viewer, at).Select(row => row.Access).Distinct().ToListAsync(cancel)).ToDictionary(access => access, access => places[access]);

    private sealed record Stand
    {
        public required string Code { get; init; }

        public AccessId Access { get; init; }
    }

    private static IQueryable<Stand> Standing(FleetDbContext db, Viewer viewer, DateTimeOffset at) =>
        from station in db.Stations.VisibleTo(viewer)
        join placement in db.Placements on station.Id equals placement.StationId
        where placement.From <= at && (placement.To == null || placement.To > at)
        select new Stand { Code = station.Code, Access = placement.AccessId };
}
