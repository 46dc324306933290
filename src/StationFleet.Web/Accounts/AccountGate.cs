using Microsoft.AspNetCore.Components.Endpoints;
using StationFleet.Web.Shell;

namespace StationFleet.Web.Accounts;

/// <summary>
/// Sends every page to /first-run while nobody has an account, and a person with a temporary password to the page that changes it.
/// </summary>
internal sealed class AccountGate(RequestDelegate next, FirstRun firstRun)
{
    public async Task InvokeAsync(HttpContext context)
    {
        Type? page = context.GetEndpoint()?.Metadata.GetMetadata<ComponentTypeMetadata>()?.Type;
        if (page is null || page == typeof(ErrorPage) || page == typeof(NotFoundPage))
        {
            await next(context);
            return;
        }

        bool isFirstRun = await firstRun.IsOpenAsync(context.RequestAborted);
        if (isFirstRun && page != typeof(FirstRunPage))
        {
            context.Response.Redirect("/first-run");
        }
        else if (!isFirstRun && page == typeof(FirstRunPage))
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
        }
        else if (context.User.HasClaim(claim => claim.Type == TemporaryPassword.Claim) && page != typeof(PasswordPage) && page != typeof(SignOutPage))
        {
            context.Response.Redirect("/account/password");
        }
        else
        {
            await next(context);
        }
    }
}
