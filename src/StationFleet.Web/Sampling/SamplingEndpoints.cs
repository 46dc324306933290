using System.Security.Claims;
using Microsoft.AspNetCore.Http.HttpResults;
using StationFleet.Reports.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>The files of samples.</summary>
public static class SamplingEndpoints
{
    public static void MapSampling(this WebApplication app) =>
        app.MapGet("/samples/labels.pdf", LabelsAsync).RequireAuthorization();

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> LabelsAsync(
        string? codes, HttpRequest request, ClaimsPrincipal user, ReadLabels read, FleetPaths paths, CancellationToken cancel)
    {
        string[] asked = (codes ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (asked.Length is 0 or > ReadLabels.Most)
        {
            return TypedResults.Problem($"Name the samples: ?codes=, one to {ReadLabels.Most}, with commas between.", statusCode: StatusCodes.Status400BadRequest);
        }

        IReadOnlyList<SampleLabel> labels = await read.HandleAsync(Viewer.From(user), asked, $"{request.Scheme}://{request.Host}", cancel);
        return labels.Count == 0
            ? TypedResults.Problem("There is no such sample among yours.", statusCode: StatusCodes.Status404NotFound)
            : TypedResults.File(SampleLabels.Write(labels, paths.IsDemo), "application/pdf", labels.Count == 1 ? $"{labels[0].Code}.pdf" : "sample-labels.pdf");
    }
}
