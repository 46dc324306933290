using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Time;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Answers the morning's second question: who goes where, in which order, with what in the truck.</summary>
internal sealed class ReadRoute(PlanRoute planner, IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private readonly FleetOptions _fleet = options.Value;

    public async Task<RouteView> HandleAsync(Viewer viewer, RouteQuery asked, CancellationToken cancel)
    {
        PlanRoute.Planned planned = await planner.HandleAsync(viewer, asked, cancel);
        RouteQuery query = asked with
        {
            Day = planned.Day, StartsAt = planned.StartsAt, Hours = planned.Hours, StartYard = planned.Start?.Id, EndYard = planned.End?.Id,
        };
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        string[] drivers = [FleetRoles.Technician, FleetRoles.Biologist, FleetRoles.Administrator];
        List<RouteView.Choice> people = await db.Users
            .Where(user => db.UserRoles.Any(has => has.UserId == user.Id && db.Roles.Any(role => role.Id == has.RoleId && drivers.Contains(role.Name!))))
            .OrderBy(user => user.DisplayName).Select(user => new RouteView.Choice(user.Id, user.DisplayName)).ToListAsync(cancel);
        SetRoute? set = query.Person is null ? null
            : await db.SetRoutes.AsNoTracking().SingleOrDefaultAsync(route => route.Day == planned.Day && route.PersonId == query.Person, cancel);
        RoutePlan? plan = planned.Plan;
        TimeZoneInfo zone = _fleet.Zone;
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), zone);
        HashSet<AccessId> shown = [.. plan?.Input.Stops.Select(stop => stop.Access) ?? [], .. planned.Closed.Select(one => one.Stop.Access), .. planned.Without.Select(stop => stop.Access)];
        return new RouteView(
            plan is null ? "There is no yard to start from yet." : RouteWords.Headline(plan, zone),
            planned.Day.ToString("dddd d MMMM", System.Globalization.CultureInfo.InvariantCulture) + (planned.Day == today ? "" : planned.Day == today.AddDays(1) ? ", tomorrow" : ""),
            plan is null ? "" : $"{RouteWords.Clock(plan.Input.StartsAt, zone)} from {plan.Input.Start.Name}",
            plan is null ? "" : $"{RouteWords.Clock(plan.Back, zone)} at {plan.Input.End.Name}",
            plan?.IsExact ?? true,
            plan is null ? [] : [.. plan.Stops.Select((routed, index) => StopOf(routed, index + 1, zone))],
            Lefts(planned, zone),
            plan is null ? [] : [.. plan.Bring.Select(thing => new RouteView.Choice(NumberWords.Capital(thing.Thing), string.Join(", ", thing.Stations)))],
            planned.InTransit,
            plan is null ? null : Drawing(planned, plan),
            set is null ? null : $"Set by {set.SetBy}, {SpokenTime.At(set.SetAt, clock.GetUtcNow(), zone)}: {NumberWords.Count(set.Stops.Count)} {(set.Stops.Count == 1 ? "stop" : "stops")}, back at {RouteWords.Clock(set.Back, zone)}.",
            query,
            people,
            [.. planned.Yards.Select(yard => new RouteView.Choice(yard.Id.ToString(System.Globalization.CultureInfo.InvariantCulture), yard.Name))],
            [.. planned.Places.Where(place => !shown.Contains(place.Key)).OrderBy(place => place.Value.Name, StringComparer.Ordinal)
                .Select(place => new RouteView.Choice(place.Key.Value.ToString(System.Globalization.CultureInfo.InvariantCulture), place.Value.Name))],
            plan is not null,
            plan is { Stops.Count: > 0 } && query.Person is not null && SetRouteOfDay.MaySet(viewer, query.Person),
            viewer.MayChangeFleet());
    }

    private static RouteView.Row StopOf(RoutedStop routed, int number, TimeZoneInfo zone) => new(
        number, routed.Stop.Access, routed.Stop.Place.Name, RouteWords.Length(routed.DrivingMinutes), RouteWords.Clock(routed.Arrives, zone),
        routed.Begins > routed.Arrives ? RouteWords.Clock(routed.Begins, zone) : null, RouteWords.Clock(routed.Leaves, zone), RouteWords.Length(routed.Stop.Minutes),
        routed.Stop.Priority == RoutePriority.Urgent, Reasons(routed.Stop), routed.Stop.Bring, routed.Stop.Cautions);

    private static IReadOnlyList<RouteView.Reason> Reasons(RouteStop stop) => [.. stop.Needs.Select(need => new RouteView.Reason(need.Station, need.Ticket, need.Reason))];

    private static IReadOnlyList<RouteView.Left> Lefts(PlanRoute.Planned planned, TimeZoneInfo zone) =>
    [
        .. planned.Plan?.Left.Select(left => new RouteView.Left(left.Stop.Access, left.Stop.Place.Name, Reasons(left.Stop), RouteWords.WhyLeft(left, planned.Plan, zone), false)) ?? [],
        .. planned.Closed.Select(one => new RouteView.Left(one.Stop.Access, one.Stop.Place.Name, Reasons(one.Stop), $"The access is closed: {one.Reason}", true)),
        .. planned.Without.Select(stop => new RouteView.Left(stop.Access, stop.Place.Name, Reasons(stop), "Left out by choice.", true)),
    ];

    private RouteDrawing Drawing(PlanRoute.Planned planned, RoutePlan plan)
    {
        Dictionary<string, int> numbers = plan.Stops.Select((routed, index) => (routed.Stop.Place.Key, index + 1)).ToDictionary(pair => pair.Key, pair => pair.Item2);
        HashSet<string> left = [.. plan.Left.Select(one => one.Stop.Place.Key), .. planned.Closed.Select(one => one.Stop.Place.Key), .. planned.Without.Select(stop => stop.Place.Key)];
        IEnumerable<RoutePlace> accesses = planned.Places.Values.Concat(plan.Input.Stops.Select(stop => stop.Place)).DistinctBy(place => place.Key);
        IEnumerable<RoutePlace> yards = new[] { plan.Input.Start, plan.Input.End }.DistinctBy(place => place.Key);
        return RouteDrawing.Of(
            [
                .. yards.Select(yard => (yard, RouteDrawing.PointKind.Yard, (int?)null)),
                .. accesses.Select(place => numbers.TryGetValue(place.Key, out int number) ? (place, RouteDrawing.PointKind.Stop, (int?)number)
                    : (place, left.Contains(place.Key) ? RouteDrawing.PointKind.Left : RouteDrawing.PointKind.Other, null)),
            ],
            plan.Stops.Count == 0 ? [] : [plan.Input.Start, .. plan.Stops.Select(routed => routed.Stop.Place), plan.Input.End],
            _fleet.Units == UnitSystem.UsCustomary);
    }
}
