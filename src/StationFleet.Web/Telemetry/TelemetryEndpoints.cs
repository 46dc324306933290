using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Primitives;
using StationFleet.Domain.Telemetry;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>What station controllers call; the contract is in docs/intake-api.md.</summary>
public static partial class TelemetryEndpoints
{
    /// <summary>The fleet's time in seconds since 1970, and as people write it.</summary>
    private sealed record FleetTime(decimal Time, string Iso);

    public static void MapTelemetry(this WebApplication app)
    {
        // Stations have keys of their own: no cookie, so nothing that another site could make a browser send.
        RouteGroupBuilder api = app.MapGroup("/api/v1").AllowAnonymous().DisableAntiforgery();
        api.MapPost("/reports", PostReportAsync);
        api.MapGet("/time", GetTime);

        // Else the closed site would answer a controller's mistake with a redirect to the sign-in page.
        api.MapMethods("/reports", ["GET", "PUT", "PATCH", "DELETE"], (HttpResponse response) => ReportAnswers.WrongMethod(response, HttpMethods.Post));
        api.MapMethods("/time", ["POST", "PUT", "PATCH", "DELETE"], (HttpResponse response) => ReportAnswers.WrongMethod(response, HttpMethods.Get));
        api.MapFallback("{**path}", ReportAnswers.NoSuchAddress);
    }

    private static async Task<IResult> PostReportAsync(
        HttpContext http,
        StationKeys keys,
        ReportLimiter limiter,
        AcceptReport accept,
        ILogger<AcceptReport> logger,
        CancellationToken cancel)
    {
        string? key = BearerOf(http.Request.Headers.Authorization);
        if (await keys.FindAsync(key, cancel) is not { } sender)
        {
            LogRefusedKey(logger, http.Connection.RemoteIpAddress);
            return ReportAnswers.Unauthorized(http.Response, sentOne: key is not null);
        }

        if (limiter.WaitFor(sender) is { } wait)
        {
            return ReportAnswers.TooMany(http.Response, wait);
        }

        return await ReportBody.ReadAsync(http.Request, cancel) switch
        {
            ReportBody.Whole whole => ReportAnswers.Of(await accept.HandleAsync(sender, whole.Bytes, SourceOf(http.Request), cancel), http.Response),
            { } refused => ReportAnswers.Of(refused, http.Response),
        };
    }

    // A person who sends a logger's file with the station's key says so: the station does not count as heard then.
    private static ReportSource SourceOf(HttpRequest request) =>
        request.Query["source"] == "logger-file" ? ReportSource.LoggerFile : ReportSource.Station;

    private static Ok<FleetTime> GetTime(HttpResponse response, FleetClock clock)
    {
        DateTimeOffset now = clock.GetUtcNow();
        response.Headers.CacheControl = "no-store";
        return TypedResults.Ok(new FleetTime(
            now.ToUnixTimeMilliseconds() / 1000m,
            now.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)));
    }

    private static string? BearerOf(StringValues header) =>
        header.Count == 1
        && AuthenticationHeaderValue.TryParse(header[0], out AuthenticationHeaderValue? value)
        && value.Scheme.Equals("Bearer", StringComparison.OrdinalIgnoreCase)
            ? value.Parameter
            : null;

    [LoggerMessage(2121, LogLevel.Warning, "A report without a valid key came from {Address} and was refused.")]
    private static partial void LogRefusedKey(ILogger logger, IPAddress? address);
}
