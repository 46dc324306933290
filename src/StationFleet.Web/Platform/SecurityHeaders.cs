using System.Security.Cryptography;

namespace StationFleet.Web.Platform;

/// <summary>Headers that keep pages to their own server: nothing is loaded from, or sent to, anybody else.</summary>
internal sealed class SecurityHeaders(RequestDelegate next)
{
    public const string NonceItem = "nonce";

    public Task InvokeAsync(HttpContext context)
    {
        string nonce = Convert.ToBase64String(RandomNumberGenerator.GetBytes(18));
        context.Items[NonceItem] = nonce;
        context.Response.OnStarting(() =>
        {
            IHeaderDictionary headers = context.Response.Headers;
            headers.XContentTypeOptions = "nosniff";
            if (!IsPartOfPage(headers.ContentType.ToString()))
            {
                headers.ContentSecurityPolicy =
                    "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; "
                    + $"script-src 'self' 'nonce-{nonce}'; connect-src 'self'; object-src 'none'; "
                    + "base-uri 'self'; form-action 'self'; frame-ancestors 'none'";
                headers["Referrer-Policy"] = "same-origin";
                headers["Permissions-Policy"] = "geolocation=(), microphone=(), camera=(self)";
            }

            return Task.CompletedTask;
        });
        return next(context);
    }

    // A page's policies hold for what it is drawn with: half a kilobyte each that a phone with weak signal need not take.
    private static bool IsPartOfPage(string contentType) =>
        contentType.StartsWith("text/css", StringComparison.Ordinal) || contentType.StartsWith("text/javascript", StringComparison.Ordinal)
        || contentType.StartsWith("font/", StringComparison.Ordinal);
}
