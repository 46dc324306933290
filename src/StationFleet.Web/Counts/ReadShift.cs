using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Counts;

/// <summary>One count shift with its history.</summary>
internal sealed class ReadShift(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed record Correction(string When, string Who, string What);

    /// <param name="Now">The values that the form begins with.</param>
    /// <param name="MayBook">It is one's own, and its hours are not booked yet.</param>
    internal sealed record View(
        int Id, int Version, string Station, string Place, string Times, string Counted, string Counter, bool IsStruck, CountInput Now,
        IReadOnlyList<ReadCountForm.HangingTool> Tools, IReadOnlyList<Correction> History, bool MayCorrect, bool MayBook);

    public async Task<View?> HandleAsync(Viewer viewer, int number, CancellationToken cancel)
    {
        CountShiftId id = new(number);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        if (await db.CountShiftsVisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } shift)
        {
            return null;
        }

        Access access = await db.Accesses.SingleAsync(row => row.Id == shift.AccessId, cancel);
        List<CountedToolUses> uses = await db.CountedToolUses.Where(tool => tool.ShiftId == id).ToListAsync(cancel);
        List<Tool> hanging = await db.Tools.Where(tool => tool.StationId == shift.StationId && tool.Installed < shift.To && (tool.Removed == null || tool.Removed > shift.From))
            .ToListAsync(cancel);
        List<CountShiftEvent> history = await db.CountShiftEvents.Where(row => row.ShiftId == id).OrderByDescending(row => row.Id).ToListAsync(cancel);
        string key = ReadShiftHours.KeyOf(id);
        return new View(
            number, shift.Version,
            await db.Stations.Where(station => station.Id == shift.StationId).Select(station => station.Code).SingleAsync(cancel),
            $"{access.Name}, {access.Water}",
            CountTexts.Times(shift.From, shift.To, access.Zone),
            CountTexts.Counted(shift.BoatsLeaving, shift.BoatsAtStation, uses.Count > 0 ? uses.Sum(tool => tool.Uses) : null),
            shift.Counter, shift.IsStruck,
            new CountInput
            {
                From = LocalTimes.ForField(shift.From, access.Zone),
                To = LocalTimes.ForField(shift.To, access.Zone),
                BoatsLeaving = FormattableString.Invariant($"{shift.BoatsLeaving}"),
                BoatsAtStation = FormattableString.Invariant($"{shift.BoatsAtStation}"),
                Tools = uses.ToDictionary(tool => tool.Tool, tool => FormattableString.Invariant($"{tool.Uses}"), StringComparer.Ordinal),
                Note = shift.Note ?? "",
            },
            [
                .. hanging.OrderBy(tool => tool.Kind).ThenBy(tool => tool.Name, StringComparer.Ordinal).Select(tool => new ReadCountForm.HangingTool(tool.Slug, tool.Name))
                    .Concat(uses.Where(row => hanging.TrueForAll(tool => tool.Slug != row.Tool)).Select(row => new ReadCountForm.HangingTool(row.Tool, row.Tool))),
            ],
            [.. history.Select(row => new Correction(LocalTimes.Say(row.At, access.Zone), row.Who, row.What))],
            viewer.MayCorrect(shift),
            shift.CountedById == viewer.UserId && !shift.IsStruck && !await db.TimeEntries.AnyAsync(entry => entry.IdempotencyKey == key, cancel));
    }
}
