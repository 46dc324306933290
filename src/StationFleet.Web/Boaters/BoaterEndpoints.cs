using Microsoft.AspNetCore.Http.HttpResults;
using StationFleet.Reports.Boaters;

namespace StationFleet.Web.Boaters;

/// <summary>The sign to print; the public page itself is a page.</summary>
public static class BoaterEndpoints
{
    public static void MapBoaters(this WebApplication app) => app.MapGet(ReadSign.Path("{slug}"), SignAsync).RequireAuthorization();

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> SignAsync(
        string slug, string? size, HttpRequest request, ReadSign read, CancellationToken cancel)
    {
        bool isA4 = string.Equals(size, "a4", StringComparison.OrdinalIgnoreCase);
        if (!isA4 && !string.IsNullOrEmpty(size) && !string.Equals(size, "letter", StringComparison.OrdinalIgnoreCase))
        {
            return TypedResults.Problem("The size is letter or a4.", statusCode: StatusCodes.Status400BadRequest);
        }

        return await read.HandleAsync(slug, $"{request.Scheme}://{request.Host}", cancel) is { } sign
            ? TypedResults.File(AccessSign.Write(sign, isA4), "application/pdf", $"sign-{slug}-{(isA4 ? "a4" : "letter")}.pdf")
            : TypedResults.Problem("There is no such access.", statusCode: StatusCodes.Status404NotFound);
    }
}
