using System.Security.Claims;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>A day on the road as a calendar file; takes the page's choices.</summary>
public static class RouteEndpoints
{
    public static void MapRoutes(this WebApplication app) => app.MapGet("/route/day.ics", CalendarAsync).RequireAuthorization();

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> CalendarAsync(
        HttpContext http, ClaimsPrincipal user, PlanRoute planner, FleetClock clock, FleetPaths paths, IOptions<FleetOptions> options)
    {
        RouteQuery query = RouteQuery.From(http.Request.QueryString.Value);
        PlanRoute.Planned planned = await planner.HandleAsync(Viewer.From(user), query, http.RequestAborted);
        if (planned.Plan is not { Stops.Count: > 0 } plan)
        {
            return TypedResults.Problem("There is no stop on this day.", statusCode: StatusCodes.Status404NotFound);
        }

        // The address by which people reach the server stays the same, so events keep their identity.
        string host = Uri.TryCreate(options.Value.PublicUrl, UriKind.Absolute, out Uri? address) ? address.Host : http.Request.Host.Host;
        string text = new RouteCalendar(plan, planned.Day, query.Person ?? "all", options.Value.Organization, host, clock.GetUtcNow(), paths.IsDemo).Write();
        return TypedResults.File(
            System.Text.Encoding.UTF8.GetBytes(text), RouteCalendar.ContentType,
            FormattableString.Invariant($"{(paths.IsDemo ? "invented-" : "")}route-{planned.Day:yyyy-MM-dd}.ics"));
    }
}
