using System.Globalization;
using System.Security.Claims;
using System.Text;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Seasons;
using StationFleet.Reports.Tables;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>A season's files. Each takes the same questions as the page.</summary>
public static class SeasonEndpoints
{
    /// <summary>Who may take figures away: those who answer for them.</summary>
    public const string ExportRoles = $"{FleetRoles.Biologist},{FleetRoles.Supervisor},{FleetRoles.Administrator}";

    public static void MapSeasons(this WebApplication app)
    {
        RouteGroupBuilder group = app.MapGroup("/season").RequireAuthorization(new AuthorizeAttribute { Roles = ExportRoles });
        group.MapGet("/export.xlsx", WorkbookAsync);
        group.MapGet("/export.pdf", PdfAsync);
        group.MapGet("/narrative.txt", NarrativeAsync);
        group.MapGet("/tables.json", TablesAsync);
        group.MapGet("/{table}.csv", CsvAsync);
    }

    private static Task<Results<FileContentHttpResult, ProblemHttpResult>> WorkbookAsync(
        [AsParameters] SeasonQuestion asked, ClaimsPrincipal user, SeasonFiles files, CancellationToken cancel) =>
        files.AnswerAsync(user, asked.Query, (report, frame) => new SeasonFile(
            SeasonWorkbook.Write(report, files.Units, frame), TableWorkbook.ContentType, "xlsx"), cancel);

    private static Task<Results<FileContentHttpResult, ProblemHttpResult>> PdfAsync(
        [AsParameters] SeasonQuestion asked, ClaimsPrincipal user, SeasonFiles files, CancellationToken cancel) =>
        files.AnswerAsync(user, asked.Query, (report, frame) => new SeasonFile(
            SeasonPdf.Write(report, files.Units, frame), SeasonPdf.ContentType, "pdf"), cancel);

    private static Task<Results<FileContentHttpResult, ProblemHttpResult>> NarrativeAsync(
        [AsParameters] SeasonQuestion asked, ClaimsPrincipal user, SeasonFiles files, CancellationToken cancel) =>
        files.AnswerAsync(user, asked.Query, (report, frame) => new SeasonFile(
            Encoding.UTF8.GetBytes(SeasonNarrative.Write(report, files.Units, frame.Agency, frame.IsInvented)), "text/plain; charset=utf-8", "txt"), cancel);

    private static Task<Results<FileContentHttpResult, ProblemHttpResult>> CsvAsync(
        string table, [AsParameters] SeasonQuestion asked, ClaimsPrincipal user, SeasonFiles files, CancellationToken cancel) =>
        files.AnswerAsync(user, asked.Query, (report, frame) =>
            SeasonCsv.Write(report, table, frame.IsInvented) is { } csv
                ? new SeasonFile(csv, "text/csv; charset=utf-8; header=present", $"{table}.csv")
                : null, cancel);

    private static Task<Results<FileContentHttpResult, ProblemHttpResult>> TablesAsync(
        [AsParameters] SeasonQuestion asked, ClaimsPrincipal user, SeasonFiles files, CancellationToken cancel)
    {
        return files.AnswerAsync(user, asked.Query, (report, frame) => new SeasonFile(
            SeasonCsv.Describe(report, frame, key => $"{key}.csv{asked.Query.Address}"),
            "application/json; charset=utf-8", "tables.json"), cancel);
    }
}

/// <summary>What an address asks for; the same for the page and each file.</summary>
internal sealed record SeasonQuestion(int? Year, string? Station, DateOnly? From, DateOnly? To, string? Award, string? Owner, string? Access)
{
    public SummariseSeason.Query Query => new(Year, Station, From, To, Award, Owner, Access);
}

/// <param name="Content">Its bytes.</param>
/// <param name="ContentType">What they are.</param>
/// <param name="NameEnd">How its name ends.</param>
internal sealed record SeasonFile(byte[] Content, string ContentType, string NameEnd);

/// <summary>Makes a season's file of an answer, or says why there is none.</summary>
internal sealed class SeasonFiles(SummariseSeason summarise, IOptions<FleetOptions> options, FleetPaths paths)
{
    public Domain.Quantities.UnitSystem Units => options.Value.Units;

    public async Task<Results<FileContentHttpResult, ProblemHttpResult>> AnswerAsync(
        ClaimsPrincipal user,
        SummariseSeason.Query query,
        Func<SeasonReport, ReportFrame, SeasonFile?> write,
        CancellationToken cancel)
    {
        SummariseSeason.Outcome outcome = await summarise.HandleAsync(Viewer.From(user), query, cancel);
        if (outcome is not SummariseSeason.Outcome.Summarised { Report: { } report })
        {
            return TypedResults.Problem(
                outcome is SummariseSeason.Outcome.NoSuchYear ? "There is no season of this year." : "There is no such station among yours, or none of this access, award and owner.",
                statusCode: StatusCodes.Status404NotFound);
        }

        ReportFrame frame = new(report.Title, options.Value.Organization, report.Lead(Units), paths.IsDemo);
        return write(report, frame) is { } file
            ? TypedResults.File(file.Content, file.ContentType, Name(report.Summary, query, file.NameEnd))
            : TypedResults.Problem("There is no table of this name.", statusCode: StatusCodes.Status404NotFound);
    }

    private string Name(SeasonSummary summary, SummariseSeason.Query query, string end) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(paths.IsDemo ? "invented-" : "")}season-{(summary.Season.IsRange ? $"{summary.Season.FirstDay:yyyy-MM-dd}-to-{summary.Season.LastDay:yyyy-MM-dd}" : $"{summary.Season.Year}")}{Part(query.Station)}{Part(query.Access)}{Part(query.Award)}{Part(query.Owner)}{(end.Contains('.', StringComparison.Ordinal) ? "-" : ".")}{end}");

    private static string Part(string? name) => string.IsNullOrEmpty(name) ? "" : $"-{string.Concat(name.Select(letter => char.IsAsciiLetterOrDigit(letter) ? letter : '-'))}";
}
