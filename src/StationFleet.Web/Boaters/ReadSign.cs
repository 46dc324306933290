using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Reports.Boaters;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Boaters;

/// <summary>The sign of an access, with the tools that hang there now.</summary>
internal sealed class ReadSign(IDbContextFactory<FleetDbContext> databases, FleetClock clock, FleetPaths paths, IOptions<FleetOptions> options)
{
    // Before a station comes, the sign tells of what most stations carry.
    private static readonly (ToolKind, string)[] Usual =
        [(ToolKind.Vacuum, "Vacuum"), (ToolKind.Grabber, "Grabber"), (ToolKind.Wrench, "Drain-plug wrench"), (ToolKind.Brush, "Brush"), (ToolKind.Blower, "Blower")];

    public static string Path(string slug) => $"/office/accesses/{slug}/sign.pdf";

    /// <param name="slug">The access's name in addresses.</param>
    /// <param name="host">The address at which the person reached us; a set public address goes before it.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<SignText?> HandleAsync(string slug, string host, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Slug == slug, cancel) is not { } access)
        {
            return null;
        }

        List<Tool> tools = await db.Tools.AsNoTracking()
            .Where(tool => tool.Installed <= now && (tool.Removed == null || tool.Removed > now)
                && db.Placements.Any(placement => placement.StationId == tool.StationId && placement.AccessId == access.Id
                    && placement.From <= now && (placement.To == null || placement.To > now)))
            .OrderBy(tool => tool.Name).ToListAsync(cancel);
        (ToolKind, string)[] kinds =
        [
            .. tools.GroupBy(tool => tool.Kind).OrderBy(kind => kind.Key)
                .Select(kind => (kind.Key, string.Join(", ", kind.Select(tool => tool.Name).Distinct()))),
        ];
        string address = options.Value.PublicUrl is { Length: > 0 } url ? url.TrimEnd('/') : host;
        return new SignText(access.Name, access.Water, $"{address}/a/{access.Slug}", options.Value.Organization, kinds.Length > 0 ? kinds : Usual, paths.IsDemo);
    }
}
