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
    }
}

/// <summary>Makes files of tables, with the organisation's name and the demo's note.</summary>
internal sealed class GrantFiles(ReadRegister register, IOptions<FleetOptions> options, IOptions<GrantOptions> grants, FleetPaths paths)
{
    public async Task<ReportTable> RegisterAsync(ClaimsPrincipal user, CancellationToken cancel) =>
        RegisterTable.Of(await register.ItemsAsync(Viewer.From(user), cancel), grants.Value.Currency);

    public FileContentHttpResult Workbook(string name, string title, params IReadOnlyList<ReportTable> tables) => TypedResults.File(
        TableWorkbook.Write(new ReportFrame(title, options.Value.Organization, [GrantWords.TermsPrevail], paths.IsDemo), tables),
        TableWorkbook.ContentType, $"{Prefix}{name}.xlsx");

    public FileContentHttpResult Csv(string name, ReportTable table) => TypedResults.File(
        CsvTable.Write(paths.IsDemo ? table.Noted() : table), "text/csv; charset=utf-8; header=present", $"{Prefix}{name}.csv");

    private string Prefix => paths.IsDemo ? "invented-" : "";
}
