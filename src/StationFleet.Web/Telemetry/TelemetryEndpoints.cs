using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>What station controllers call; the contract is in docs/intake-api.md.</summary>
public static class TelemetryEndpoints
{
    private static readonly Dictionary<string, string> AllowedAt = new(StringComparer.OrdinalIgnoreCase)
    {
        ["v1/reports"] = HttpMethods.Post,
        ["v1/reports/dry-run"] = HttpMethods.Post,
        ["v1/time"] = $"{HttpMethods.Get}, {HttpMethods.Head}",
    };

    /// <summary>The fleet's time in seconds since 1970, and as people write it.</summary>
    private sealed record FleetTime(decimal Time, string Iso);

    /// <summary>Answers every failure under /api with a problem document: a controller cannot read the page that people get.</summary>
    public static void UseTelemetry(this WebApplication app) => app.UseWhen(
        http => http.Request.Path.StartsWithSegments("/api"),
        api => api.UseExceptionHandler(new ExceptionHandlerOptions { ExceptionHandler = http => ReportAnswers.Failed().ExecuteAsync(http) }));

    public static void MapTelemetry(this WebApplication app)
    {
        // Stations have keys of their own: no cookie, so nothing that another site could make a browser send.
        RouteGroupBuilder api = app.MapGroup("/api").AllowAnonymous().DisableAntiforgery();
        api.MapPost("/v1/reports", (HttpContext http, ReportIntake intake, CancellationToken cancel) => intake.HandleAsync(http, isDryRun: false, cancel));
        api.MapPost("/v1/reports/dry-run", (HttpContext http, ReportIntake intake, CancellationToken cancel) => intake.HandleAsync(http, isDryRun: true, cancel));
        api.MapMethods("/v1/time", [HttpMethods.Get, HttpMethods.Head], GetTime);

        // Else the closed site would answer a controller's mistake with a redirect to the sign-in page.
        api.MapFallback("/{**path}", (string? path, HttpResponse response) => AllowedAt.TryGetValue(path?.TrimEnd('/') ?? "", out string? allowed)
            ? ReportAnswers.WrongMethod(response, allowed)
            : ReportAnswers.NoSuchAddress());
    }

    private static Ok<FleetTime> GetTime(HttpResponse response, FleetClock clock)
    {
        DateTimeOffset now = clock.GetUtcNow();
        response.Headers.CacheControl = "no-store";
        return TypedResults.Ok(new FleetTime(
            now.ToUnixTimeMilliseconds() / 1000m,
            now.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)));
    }
}
