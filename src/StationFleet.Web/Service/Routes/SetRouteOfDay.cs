using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Sets a planned day for a person: My work then goes by it. Set once more, the new one holds.</summary>
internal sealed class SetRouteOfDay(PlanRoute planner, IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(string Why) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    /// <summary>Whoever may change the fleet sets anybody's day; a technician their own.</summary>
    public static bool MaySet(Viewer viewer, string? person) => TicketDesk.MayAct(viewer) && (viewer.MayChangeFleet() || person == viewer.UserId);

    public async Task<Outcome> HandleAsync(Viewer viewer, RouteQuery query, CancellationToken cancel)
    {
        if (query.Person is not { } person)
        {
            return new Outcome.Refused("Choose whose day it is first.");
        }

        if (!MaySet(viewer, person))
        {
            return new Outcome.NotAllowed();
        }

        PlanRoute.Planned planned = await planner.HandleAsync(viewer, query, cancel);
        if (planned.Plan is not { Stops.Count: > 0 } plan)
        {
            return new Outcome.Refused("There is no stop to set.");
        }

        return await databases.WriteAsync<Outcome>(
            async db =>
            {
                if (!await db.Users.AnyAsync(user => user.Id == person, cancel))
                {
                    return new Outcome.NotAllowed();
                }

                SetRoute? route = await db.SetRoutes.SingleOrDefaultAsync(row => row.Day == planned.Day && row.PersonId == person, cancel);
                if (route is null)
                {
                    route = new SetRoute { Day = planned.Day, PersonId = person, Stops = [], SetBy = viewer.Name };
                    db.Add(route);
                }

                route.Stops = [.. plan.Stops.Select(stop => new SetStop(stop.Stop.Access, stop.Arrives, stop.Leaves))];
                (route.StartsAt, route.Back, route.SetBy, route.SetAt) = (plan.Input.StartsAt, plan.Back, viewer.Name, clock.GetUtcNow());
                return new Outcome.Saved();
            },
            cancel);
    }
}
