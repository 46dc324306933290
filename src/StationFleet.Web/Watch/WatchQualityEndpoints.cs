using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;
using StationFleet.Domain.Watch;
using StationFleet.Reports.Tables;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Watch;

/// <summary>The figures of the watch as a file; takes <c>?period=</c>, as the page does.</summary>
public static class WatchQualityEndpoints
{
    public static void MapWatchQuality(this WebApplication app) => app
        .MapGet("/rules/quality.csv", CsvAsync)
        .RequireAuthorization(new AuthorizeAttribute { Roles = SeasonEndpoints.ExportRoles });

    private static async Task<IResult> CsvAsync(
        string? period, ClaimsPrincipal user, ReadWatchQuality read, FleetPaths paths, CancellationToken cancel)
    {
        ReadWatchQuality.View view = await read.HandleAsync(Viewer.From(user), period, cancel);
        TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById(view.ZoneId);
        ReportTable table = new(
            "watch", "How good is the watch",
            [
                Words("figure"), new ReportColumn("value", "Value", ColumnKind.Figure, "", "The number, in its unit; a share is from 0 to 1."),
                Words("unit"), Words("target"), Words("is_met"), new ReportColumn("from", "From", ColumnKind.Instant, "", "From when it is counted."),
                new ReportColumn("to", "To", ColumnKind.Instant, "", "Until when."), Words("definition"), Words("note"),
            ],
            [
                .. WatchFigure.Of(view.Quality).Select(figure => (IReadOnlyList<Cell>)
                [
                    Cell.Of(figure.Key), Cell.OneDecimal(figure.Value), Cell.Of(figure.Unit), Cell.Of(figure.Target),
                    Cell.Of(figure.IsMet switch { true => "yes", false => "no", null => "" }),
                    Cell.At(view.From, zone), Cell.At(view.To, zone), Cell.Of(figure.Definition), Cell.Of(paths.IsDemo ? ReportFrame.InventedNote : ""),
                ]),
            ]);
        return TypedResults.File(
            CsvTable.Write(table), "text/csv; charset=utf-8; header=present", $"{(paths.IsDemo ? "invented-" : "")}watch-{view.Period}.csv");
    }

    private static ReportColumn Words(string key) => new(key, key, ColumnKind.Text, "", key);
}
