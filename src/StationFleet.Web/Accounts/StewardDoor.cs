using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Endpoints;

namespace StationFleet.Web.Accounts;

/// <summary>Marks a page or endpoint that people may open who are stewards and nothing else.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class OpenToStewardsAttribute : Attribute;

/// <summary>Shut unless opened: who is a steward and nothing else reaches what is marked, and what everybody reaches.</summary>
internal sealed class StewardDoor(RequestDelegate next)
{
    /// <summary>Where a steward begins.</summary>
    public const string Home = "/count";

    public async Task InvokeAsync(HttpContext context)
    {
        if (!IsShut(context))
        {
            await next(context);
        }
        else if (context.GetEndpoint()!.Metadata.GetMetadata<ComponentTypeMetadata>() is null)
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
        }
        else
        {
            context.Response.Redirect(context.Request.Path == "/" ? Home : "/not-allowed");
        }
    }

    private static bool IsShut(HttpContext context) =>
        context.User.Identity?.IsAuthenticated == true
        && context.GetEndpoint() is { } endpoint
        && endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null
        && endpoint.Metadata.GetMetadata<OpenToStewardsAttribute>() is null
        && Viewer.From(context.User).IsOnlySteward();
}
