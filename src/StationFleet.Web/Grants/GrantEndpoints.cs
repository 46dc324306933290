using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Grants;
using StationFleet.Reports.Grants;
using StationFleet.Reports.Tables;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>The files of equipment and awards.</summary>
public static class GrantEndpoints
{
    public static void MapGrants(this WebApplication app)
    {
        RouteGroupBuilder equipment = app.MapGroup("/equipment").RequireAuthorization(new AuthorizeAttribute { Roles = GrantRights.ReadRoles });
        equipment.MapGet("/register.xlsx", async (ClaimsPrincipal user, GrantFiles files, CancellationToken cancel) =>
            files.Workbook("equipment", "Equipment register", await files.RegisterAsync(user, cancel)));
        equipment.MapGet("/register.csv", async (ClaimsPrincipal user, GrantFiles files, CancellationToken cancel) =>
            files.Csv("equipment", await files.RegisterAsync(user, cancel)));

        RouteGroupBuilder awards = app.MapGroup("/awards/{id:int}").RequireAuthorization(new AuthorizeAttribute { Roles = GrantRights.ReadRoles });
        awards.MapGet("/indicators.xlsx", async Task<Results<FileContentHttpResult, NotFound>> (
            int id, DateOnly? from, DateOnly? to, ClaimsPrincipal user, GrantFiles files, CancellationToken cancel) =>
            await files.IndicatorsAsync(user, new ReadAward.Query(new AwardId(id), from, to), cancel) is var (number, table)
                ? files.Workbook($"indicators-{number}", $"{number}: indicators", table)
                : TypedResults.NotFound());
        awards.MapGet("/indicators.csv", async Task<Results<FileContentHttpResult, NotFound>> (
            int id, DateOnly? from, DateOnly? to, ClaimsPrincipal user, GrantFiles files, CancellationToken cancel) =>
            await files.IndicatorsAsync(user, new ReadAward.Query(new AwardId(id), from, to), cancel) is var (number, table)
                ? files.Csv($"indicators-{number}", table)
                : TypedResults.NotFound());
    }
}

/// <summary>Makes files of tables, with the organisation's name and the demo's note.</summary>
internal sealed class GrantFiles(ReadRegister register, ReadAward award, IOptions<FleetOptions> options, IOptions<GrantOptions> grants, FleetPaths paths)
{
    public async Task<ReportTable> RegisterAsync(ClaimsPrincipal user, CancellationToken cancel) =>
        RegisterTable.Of(await register.ItemsAsync(Viewer.From(user), cancel), grants.Value.Currency);

    public async Task<(string Number, ReportTable Table)?> IndicatorsAsync(ClaimsPrincipal user, ReadAward.Query query, CancellationToken cancel)
    {
        if (await award.HandleAsync(Viewer.From(user), query, cancel) is not { } view)
        {
            return null;
        }

        string days = $"Counted from {GrantWords.Day(view.From)} to {GrantWords.Day(view.To)}. {view.Shared}".Trim();
        return (view.Form.Number, IndicatorTable.Of([.. view.Indicators.Select(indicator => indicator.Line)], days));
    }

    public FileContentHttpResult Workbook(string name, string title, params IReadOnlyList<ReportTable> tables) => TypedResults.File(
        TableWorkbook.Write(new ReportFrame(title, options.Value.Organization, [GrantWords.TermsPrevail], paths.IsDemo), tables),
        TableWorkbook.ContentType, $"{Prefix}{name}.xlsx");

    public FileContentHttpResult Csv(string name, ReportTable table) => TypedResults.File(
        CsvTable.Write(paths.IsDemo ? table.Noted() : table), "text/csv; charset=utf-8; header=present", $"{Prefix}{name}.csv");

    private string Prefix => paths.IsDemo ? "invented-" : "";
}
