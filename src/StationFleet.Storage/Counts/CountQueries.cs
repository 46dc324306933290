using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Counts;

/// <summary>Count shifts as estimates need them.</summary>
public static class CountQueries
{
    /// <summary>The shifts of some stations that began within a stretch of time and were not taken back.</summary>
    /// <param name="db">The database.</param>
    /// <param name="stations">The stations.</param>
    /// <param name="from">The first instant.</param>
    /// <param name="to">The first instant after.</param>
    /// <param name="access">Only shifts at this access; null for all.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<ILookup<StationId, CountShift>> CountShiftsAsync(
        this FleetDbContext db, IReadOnlyCollection<StationId> stations, DateTimeOffset from, DateTimeOffset to, AccessId? access, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(db);
        var rows = await db.CountShifts
            .Where(shift => stations.Contains(shift.StationId) && shift.From >= from && shift.From < to && !shift.IsStruck)
            .Where(shift => access == null || shift.AccessId == access)
            .OrderBy(shift => shift.From)
            .Select(shift => new
            {
                shift.StationId, shift.From, shift.To, shift.BoatsLeaving, shift.BoatsAtStation,
                Uses = db.CountedToolUses.Where(tool => tool.ShiftId == shift.Id).Sum(tool => (int?)tool.Uses),
            })
            .ToListAsync(cancel);
        return rows.ToLookup(row => row.StationId, row => new CountShift(row.StationId, row.From, row.To, row.BoatsLeaving, row.BoatsAtStation, row.Uses));
    }
}
