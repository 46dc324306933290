using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Counts;

/// <summary>Where one can count now, the form of one station, and one's own last shifts.</summary>
public sealed class ReadCountForm(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    private const int NewestShown = 10;

    /// <param name="Place">The access and its water; null while the station stands nowhere.</param>
    /// <param name="Slug">The access's public page, for telling of a problem.</param>
    public sealed record Standing(StationId Id, string Code, string? Place, string? Slug);

    public sealed record HangingTool(string Slug, string Name);

    /// <param name="MayBook">Its hours are not booked yet.</param>
    public sealed record Shift(int Id, string Station, string Times, string Counted, bool IsStruck, bool MayBook);

    /// <param name="Mine">One's own last shifts, newest first.</param>
    /// <param name="SavedKeys">The keys of their forms: a tally kept on the phone that bears one is stored already.</param>
    public sealed record View(IReadOnlyList<Standing> Stations, IReadOnlyList<Shift> Mine, IReadOnlyList<string> SavedKeys);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        var placed = await db.Placements.Where(row => row.From <= now && (row.To == null || row.To > now))
            .Join(db.Accesses, row => row.AccessId, access => access.Id, (row, access) => new { row.StationId, access.Name, access.Water, access.Slug })
            .ToListAsync(cancel);
        List<Station> stations = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code).ToListAsync(cancel);
        List<CountShiftRow> mine = await db.CountShiftsVisibleTo(viewer).Where(shift => shift.CountedById == viewer.UserId)
            .OrderByDescending(shift => shift.From).Take(NewestShown).ToListAsync(cancel);
        CountShiftId[] ids = [.. mine.Select(shift => shift.Id)];
        Dictionary<CountShiftId, int> uses = (await db.CountedToolUses.Where(tool => ids.Contains(tool.ShiftId)).ToListAsync(cancel))
            .GroupBy(tool => tool.ShiftId).ToDictionary(shift => shift.Key, shift => shift.Sum(tool => tool.Uses));
        string[] keys = [.. ids.Select(ReadShiftHours.KeyOf)];
        HashSet<string> booked = [.. await db.TimeEntries.Where(entry => keys.Contains(entry.IdempotencyKey)).Select(entry => entry.IdempotencyKey).ToListAsync(cancel)];
        Dictionary<AccessId, Access> accesses = await db.Accesses.ToDictionaryAsync(access => access.Id, cancel);
        return new View(
            [
                .. stations.Select(station => placed.Find(row => row.StationId == station.Id) is { } at
                    ? new Standing(station.Id, station.Code, $"{at.Name}, {at.Water}", at.Slug)
                    : new Standing(station.Id, station.Code, null, null)),
            ],
            [
                .. mine.Select(shift => new Shift(
                    shift.Id.Value, stations.Find(station => station.Id == shift.StationId)!.Code, CountTexts.Times(shift.From, shift.To, accesses[shift.AccessId].Zone),
                    CountTexts.Counted(shift.BoatsLeaving, shift.BoatsAtStation, uses.TryGetValue(shift.Id, out int known) ? known : null),
                    shift.IsStruck, !shift.IsStruck && !booked.Contains(ReadShiftHours.KeyOf(shift.Id)))),
            ],
            [.. mine.Select(shift => shift.IdempotencyKey)]);
    }

    /// <summary>The tools that hang on a station now, in the order of their kinds.</summary>
    public async Task<IReadOnlyList<HangingTool>> ToolsAsync(StationId station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Tool> tools = await db.Tools.AsNoTracking()
            .Where(tool => tool.StationId == station && tool.Installed <= now && (tool.Removed == null || tool.Removed > now)).ToListAsync(cancel);
        return [.. tools.OrderBy(tool => tool.Kind).ThenBy(tool => tool.Name, StringComparer.Ordinal).Select(tool => new HangingTool(tool.Slug, tool.Name))];
    }
}
