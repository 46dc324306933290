using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Days known to bring more boats than usual, or fewer: present and coming ones in order, then past ones, newest first.</summary>
public sealed class ListKnownDays(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <param name="Place">The access that it concerns; null: all of them.</param>
    /// <param name="MayChange">Whether the person may change or remove it.</param>
    public sealed record Row(
        int Id, string Name, DateOnly FirstDay, DateOnly LastDay, double Factor, AccessId? Access, string? Place, bool MayChange);

    /// <param name="Today">The local day of the fleet.</param>
    /// <param name="Places">The accesses whose days the person may name.</param>
    /// <param name="MayChangeAll">Whether the person may name days of all accesses at once.</param>
    public sealed record View(DateOnly Today, IReadOnlyList<Row> Rows, IReadOnlyList<ReadChoices.Place> Places, bool MayChangeAll)
    {
        /// <summary>Whether the person may name days at all.</summary>
        public bool MayAdd => MayChangeAll || Places.Count > 0;
    }

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Access> accesses = await db.Accesses.AsNoTracking().OrderBy(access => access.Water).ThenBy(access => access.Name).ToListAsync(cancel);
        Dictionary<AccessId, Access> byId = accesses.ToDictionary(access => access.Id);
        IEnumerable<Row> rows = (await db.KnownDays.AsNoTracking().OrderBy(known => known.FirstDay).ThenBy(known => known.Id).ToListAsync(cancel))
            .Select(known =>
            {
                Access? access = known.AccessId is { } id ? byId[id] : null;
                return new Row(
                    known.Id, known.Name, known.FirstDay, known.LastDay, known.Factor, known.AccessId,
                    access is null ? null : PlaceOf(access).Label, KnownDaysRights.MayChange(viewer, access));
            });
        ILookup<bool, Row> byPast = rows.ToLookup(row => row.LastDay < today);
        return new View(
            today,
            [.. byPast[false], .. byPast[true].Reverse()],
            [.. accesses.Where(access => KnownDaysRights.MayChange(viewer, access)).Select(PlaceOf)],
            KnownDaysRights.MayChange(viewer, access: null));
    }

    private static ReadChoices.Place PlaceOf(Access access) => new(access.Id, access.Slug, access.Name, access.Water, access.TimeZone);
}

/// <summary>Who may name days: of one access whoever may change it, of all accesses only people of the whole fleet.</summary>
internal static class KnownDaysRights
{
    public static bool MayChange(Viewer viewer, Access? access) =>
        access is null ? viewer.MayChangeFleet() && viewer.Agency is null : AccessRights.MayChange(viewer, access);
}
