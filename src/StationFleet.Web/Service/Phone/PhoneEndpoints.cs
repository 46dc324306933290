using System.Security.Claims;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.HttpResults;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Phone;

/// <summary>What the phone's queue asks before it sends: who is signed in, and a token that is good now.</summary>
public static class PhoneEndpoints
{
    /// <param name="User">The account's id: a queue is sent by its own person only.</param>
    /// <param name="Field">The form field of the token.</param>
    /// <param name="Token">Against forged posts.</param>
    internal sealed record Pass(string User, string Field, string Token);

    public static void MapPhone(this WebApplication app) => app.MapGet("/work/pass", GivePass).RequireAuthorization().WithMetadata(new OpenToStewardsAttribute());

    private static Ok<Pass> GivePass(HttpContext http, ClaimsPrincipal user, IAntiforgery antiforgery)
    {
        AntiforgeryTokenSet tokens = antiforgery.GetAndStoreTokens(http);
        return TypedResults.Ok(new Pass(Viewer.From(user).UserId, tokens.FormFieldName, tokens.RequestToken ?? ""));
    }
}
