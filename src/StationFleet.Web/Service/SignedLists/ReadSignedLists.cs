using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.SignedLists;

/// <summary>A station's signed checklists, with who signed each last.</summary>
internal sealed class ReadSignedLists(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <param name="Last">The newest signature, in words; null when nobody has signed it.</param>
    internal sealed record Row(SignedList List, IReadOnlyList<string> Steps, string? Last);

    internal sealed record View(StationId Id, string Code, bool MayAct, TimeZoneInfo Zone, DateTimeOffset Now, IReadOnlyList<Row> Lists)
    {
        public Row? Of(string slug) => Domain.Service.SignedLists.Of(slug) is { } list ? Lists.FirstOrDefault(row => row.List == list) : null;
    }

    public async Task<View?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel) is not { } station)
        {
            return null;
        }

        TimeZoneInfo zone = await StationZones.OfAsync(db, station.Id, now, options.Value, cancel);
        List<string> tools = await db.Tools.Where(tool => tool.StationId == station.Id && tool.Installed <= now && (tool.Removed == null || tool.Removed > now))
            .OrderBy(tool => tool.Name).Select(tool => tool.Name).ToListAsync(cancel);
        List<Row> rows = [];
        foreach (SignedList list in Enum.GetValues<SignedList>().Where(list => station.IsPortable || list != SignedList.CleanToMove))
        {
            SignedChecklist? last = await NewestAsync(db, station.Id, list, cancel);
            rows.Add(new Row(list, Domain.Service.SignedLists.Steps(list, tools), last is null ? null : Say(last, zone)));
        }

        return new View(station.Id, station.Code, TicketDesk.MayAct(viewer), zone, now, rows);
    }

    internal static Task<SignedChecklist?> NewestAsync(FleetDbContext db, StationId station, SignedList list, CancellationToken cancel) =>
        db.SignedChecklists.AsNoTracking().Where(signed => signed.StationId == station && signed.List == list)
            .OrderByDescending(signed => signed.At).FirstOrDefaultAsync(cancel);

    internal static string Say(SignedChecklist signed, TimeZoneInfo zone) =>
        $"Signed by {signed.Who}, {LocalTimes.Say(signed.At, zone)}{(signed.DryUntil is { } dry ? $"; dries until {LocalTimes.Say(dry, zone)}" : "")}.";
}
