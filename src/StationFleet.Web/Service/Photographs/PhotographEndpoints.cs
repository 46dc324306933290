using System.Security.Claims;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Photographs;

/// <summary>Gives out a ticket's photograph to whoever sees the ticket.</summary>
public static class PhotographEndpoints
{
    public static void MapPhotographs(this WebApplication app) => app.MapGet("/photographs/{id:int}", GetAsync).RequireAuthorization();

    private static async Task<Results<PhysicalFileHttpResult, NotFound>> GetAsync(
        int id, HttpContext http, ClaimsPrincipal user, IDbContextFactory<FleetDbContext> databases, FleetPaths paths)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(http.RequestAborted);
        string? file = await db.Photographs
            .Where(photograph => photograph.Id == id && TicketList.VisibleTo(db, Viewer.From(user)).Any(ticket => ticket.Id == photograph.TicketId))
            .Select(photograph => photograph.File).FirstOrDefaultAsync(http.RequestAborted);
        if (file is null || !File.Exists(Path.Combine(paths.Photographs, file)))
        {
            return TypedResults.NotFound();
        }

        // Not kept by the browser: nothing of a signed-in person may be readable after signing out.
        http.Response.Headers.CacheControl = "no-store";
        return TypedResults.PhysicalFile(Path.Combine(paths.Photographs, file), "image/jpeg");
    }
}
