using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Accounts;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Counts;

/// <summary>A season's count shifts and what they tell.</summary>
public sealed class ReadCounts(IDbContextFactory<FleetDbContext> databases, SummariseSeason seasons, SeasonReader reader)
{
    /// <param name="Kind">Which hours.</param>
    /// <param name="Share">The shifts' own share with its limits, for this station and these hours alone.</param>
    public sealed record HoursRow(string Station, string Kind, string Hours, string Shifts, string Counted, string BoatsPerHour, string Share);

    public sealed record ShiftRow(int Id, string Station, string Times, string Counter, string Leaving, string AtStation, string Uses, string Note);

    /// <param name="Headline">The answer in a sentence.</param>
    /// <param name="Missing">What is missing, a sentence each.</param>
    /// <param name="Stations">Each station's figures with their limits.</param>
    public sealed record View(
        int Year, IReadOnlyList<int> Years, string Title, string Headline, string? UsesPerBoat, IReadOnlyList<string> Missing, SeasonView.Grid Stations,
        IReadOnlyList<HoursRow> Hours, IReadOnlyList<ShiftRow> Shifts);

    public async Task<View?> HandleAsync(Viewer viewer, int? year, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(viewer);
        SummariseSeason.Asked asked = await seasons.AskAsync(viewer, new SummariseSeason.Query(year, null), cancel);
        if (asked is not { Season: { } season, Scope: { } scope })
        {
            return null;
        }

        SeasonSummary summary = SeasonSummary.Of(await reader.ReadAsync(scope.Ids, season, asked.Now, cancel));
        BoatCounts counts = summary.Fleet.Boats;
        return new View(
            summary.Season.Year, asked.Years, SeasonWords.Title(summary.Season) + (summary.IsRunning ? ", so far" : ""),
            CountWords.Headline(counts),
            counts.UsesPerBoat is { } ratio ? CountWords.Ratio(ratio) : null,
            CountWords.Missing(counts), SeasonLists.Boats(summary),
            [.. counts.Parts.Where(part => part.Hours > 0 || part.Shifts.Count > 0).Select(Row)],
            await ShiftsAsync(summary, cancel));
    }

    private static HoursRow Row(CountedHours part)
    {
        double counted = part.Shifts.Sum(shift => shift.Hours);
        int boats = part.Shifts.Sum(shift => shift.BoatsLeaving);
        Bounded? share = part.Hours > 0 ? BoatCounts.ShareOf([part])?.Share : null;
        return new HoursRow(
            part.Station, part.Kind.Words, NumberWords.Figures(part.Hours), NumberWords.Figures(part.Shifts.Count), NumberWords.Brief(counted),
            counted > 0 ? NumberWords.Brief(boats / counted) : "–",
            share is { } known ? CountWords.Share(known) : boats > 0 ? $"{NumberWords.Percent((double)part.Shifts.Sum(shift => shift.BoatsAtStation) / boats)}, one shift" : "–");
    }

    // Those taken back stand in the list too, so that they can be found.
    private async Task<IReadOnlyList<ShiftRow>> ShiftsAsync(SeasonSummary summary, CancellationToken cancel)
    {
        Dictionary<StationId, StationSeason> stations = summary.Stations.ToDictionary(station => station.Id);
        DateTimeOffset from = LocalCalendar.StartOf(summary.Season.FirstDay, TimeZoneInfo.Utc).AddDays(-1);
        DateTimeOffset to = LocalCalendar.StartOf(summary.Season.LastDay, TimeZoneInfo.Utc).AddDays(2);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        List<CountShiftRow> rows = await db.CountShifts.Where(shift => stations.Keys.Contains(shift.StationId) && shift.From >= from && shift.From < to)
            .OrderByDescending(shift => shift.From).ToListAsync(cancel);
        CountShiftId[] ids = [.. rows.Select(row => row.Id)];
        Dictionary<CountShiftId, int> uses = (await db.CountedToolUses.Where(tool => ids.Contains(tool.ShiftId)).ToListAsync(cancel))
            .GroupBy(tool => tool.ShiftId).ToDictionary(shift => shift.Key, shift => shift.Sum(tool => tool.Uses));
        Dictionary<AccessId, Access> accesses = await db.Accesses.ToDictionaryAsync(access => access.Id, cancel);
        return
        [
            .. rows.Where(row => summary.Season.Contains(LocalCalendar.DateOf(row.From, stations[row.StationId].Zone))).Select(row => new ShiftRow(
                row.Id.Value, stations[row.StationId].Code, CountTexts.Times(row.From, row.To, accesses[row.AccessId].Zone), row.Counter,
                Whole(row.BoatsLeaving), Whole(row.BoatsAtStation), uses.TryGetValue(row.Id, out int known) ? Whole(known) : "–",
                row.IsStruck ? "taken back" : row.Note ?? "")),
        ];
    }

    private static string Whole(int number) => number.ToString("#,##0", CultureInfo.InvariantCulture);
}
