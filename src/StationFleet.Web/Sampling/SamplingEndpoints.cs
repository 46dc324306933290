using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Time;
using StationFleet.Reports.Sampling;
using StationFleet.Reports.Tables;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Sampling;

/// <summary>The files of samples.</summary>
public static class SamplingEndpoints
{
    public static void MapSampling(this WebApplication app)
    {
        app.MapGet("/samples/labels.pdf", LabelsAsync).RequireAuthorization();
        RouteGroupBuilder exchange = app.MapGroup("/samples").RequireAuthorization(new AuthorizeAttribute { Roles = SeasonEndpoints.ExportRoles });
        exchange.MapGet("/laboratory.csv", LaboratoryAsync);
        exchange.MapGet("/darwin-core.zip", ArchiveAsync);
    }

    private static async Task<IResult> LaboratoryAsync(
        int? counted, ClaimsPrincipal user, LaboratorySheet sheet, FleetPaths paths, FleetClock clock, IOptions<FleetOptions> fleet, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), fleet.Value.Zone);
        ReportTable table = await sheet.HandleAsync(
            Viewer.From(user), counted is null ? null : LocalCalendar.StartOf(new DateOnly(today.Year, 1, 1), fleet.Value.Zone), cancel);
        return TypedResults.File(CsvTable.Write(table), "text/csv; charset=utf-8; header=present", $"{(paths.IsDemo ? "invented-" : "")}laboratory-{today:yyyy-MM-dd}.csv");
    }

    private static async Task<IResult> ArchiveAsync(int? year, ClaimsPrincipal user, BuildArchive build, CancellationToken cancel) =>
        year is < 2000 or > 2200
            ? TypedResults.Problem("Name a year, such as 2026.", statusCode: StatusCodes.Status400BadRequest)
            : await build.HandleAsync(Viewer.From(user), year, cancel) switch
            {
                BuildArchive.Outcome.Built built => TypedResults.File(DarwinCoreArchive.Write(built.Data), "application/zip", $"tank-samples-{year ?? built.Data.Published.Year}.zip"),
                BuildArchive.Outcome.Invented => TypedResults.Problem(
                    "The demo makes no archive: invented data must not get among real ones.", statusCode: StatusCodes.Status409Conflict),
                _ => TypedResults.Problem("Your role does not take data away.", statusCode: StatusCodes.Status403Forbidden),
            };

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
