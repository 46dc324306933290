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
        IHeaderDictionary headers = context.Response.Headers;
        headers.ContentSecurityPolicy =
            "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; "
            + $"script-src 'self' 'nonce-{nonce}'; connect-src 'self'; object-src 'none'; "
            + "base-uri 'self'; form-action 'self'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "geolocation=(), microphone=(), camera=(self)";
        return next(context);
    }
}
