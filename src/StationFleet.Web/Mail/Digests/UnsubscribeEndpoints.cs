namespace StationFleet.Web.Mail.Digests;

/// <summary>
/// One address for both: a mail program posts to it (RFC 8058 §3.2: without cookies, and nothing but the post may end anything, since
/// scanners follow links), a person opens it and presses a button.
/// </summary>
internal static class UnsubscribeEndpoints
{
    internal static void MapUnsubscribe(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder group = routes.MapGroup(DigestLinks.Path).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
        group.MapGet("/{token}", (string token) => Results.Redirect($"/mail/stop/{Uri.EscapeDataString(token)}"));
        group.MapPost("/{token}", PostAsync);
    }

    private static async Task<IResult> PostAsync(string token, HttpRequest request, Unsubscribe unsubscribe, CancellationToken cancel)
    {
        bool byPerson = request.HasFormContentType && (await request.ReadFormAsync(cancel)).ContainsKey("by-person");
        bool isDone = await unsubscribe.HandleAsync(token, cancel);
        return (byPerson, isDone) switch
        {
            (true, true) => Results.Redirect($"/mail/stop/{Uri.EscapeDataString(token)}?done=true"),
            (true, false) => Results.Redirect($"/mail/stop/{Uri.EscapeDataString(token)}"),
            (false, true) => Results.Text("You will not get these mails any more.\n"),
            _ => Results.Problem("This link is not whole, or its account is gone.", statusCode: StatusCodes.Status404NotFound),
        };
    }
}
