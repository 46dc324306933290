using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Grants;

namespace StationFleet.Web.Counts;

/// <summary>A shift's hours as the form of time begins with them; under a key of the shift, so that they are booked once.</summary>
internal sealed class ReadShiftHours(IDbContextFactory<FleetDbContext> databases)
{
    /// <param name="Key">The form's key.</param>
    /// <param name="Fields">By the form's field names.</param>
    internal sealed record View(string Key, IReadOnlyDictionary<string, string> Fields);

    public static string KeyOf(CountShiftId shift) => string.Create(CultureInfo.InvariantCulture, $"count-shift-{shift.Value:00000000}");

    /// <summary>Null when the shift is not one's own, was taken back, or is booked.</summary>
    public async Task<View?> HandleAsync(Viewer viewer, int number, CancellationToken cancel)
    {
        CountShiftId id = new(number);
        string key = KeyOf(id);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        CountShiftRow? shift = await db.CountShiftsVisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == id && row.CountedById == viewer.UserId && !row.IsStruck, cancel);
        if (shift is null || await db.TimeEntries.AnyAsync(entry => entry.IdempotencyKey == key, cancel))
        {
            return null;
        }

        Access access = await db.Accesses.SingleAsync(row => row.Id == shift.AccessId, cancel);
        DateTimeOffset local = TimeZoneInfo.ConvertTime(shift.From, access.Zone);
        return new View(key, new Dictionary<string, string>
        {
            [nameof(BookEntry.Form.Day)] = local.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            [nameof(BookEntry.Form.From)] = local.ToString("HH:mm", CultureInfo.InvariantCulture),
            [nameof(BookEntry.Form.Minutes)] = Math.Max(1, Math.Round((shift.To - shift.From).TotalMinutes)).ToString("0", CultureInfo.InvariantCulture),
            [nameof(BookEntry.Form.Activity)] = $"Counted boats at {access.Name}",
            [nameof(BookEntry.Form.Station)] = await db.Stations.Where(station => station.Id == shift.StationId).Select(station => station.Code).SingleAsync(cancel),
        });
    }
}
