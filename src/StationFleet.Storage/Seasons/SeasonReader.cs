using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Seasons;

/// <summary>Loads what a season's figures are made from: the fleet's rows and the days' roll-ups, never raw measurements.</summary>
public sealed class SeasonReader(
    IDbContextFactory<FleetDbContext> databases, StationSetupReader setups, MeasurementReader measurements)
{
    // Local days reach at most 14 hours beyond the same dates in UTC.
    private static readonly TimeSpan Margin = TimeSpan.FromDays(1);

    // What a tank held when the season began was measured on one of the days before.
    private const int DaysBefore = 3;

    /// <summary>Loads a season of some stations.</summary>
    /// <param name="stations">The stations; who may see them is the caller's business.</param>
    /// <param name="season">The season.</param>
    /// <param name="asOf">Nothing from this instant on is counted: now.</param>
    /// <param name="cancel">Stops the loading.</param>
    /// <param name="access">Only what happened while a station stood at this access; null takes all.</param>
    public async Task<SeasonInput> ReadAsync(
        IReadOnlyCollection<StationId> stations, Season season, DateTimeOffset asOf, CancellationToken cancel, AccessId? access = null)
    {
        ArgumentNullException.ThrowIfNull(season);
        DateTimeOffset from = Midnight(season.FirstDay) - Margin;
        DateTimeOffset end = Midnight(season.LastDay.AddDays(1)) + Margin;
        end = asOf < end ? asOf : end;
        SeasonRows rows = await ReadRowsAsync(stations, season, from, end, access, cancel);

        // The hours are many: they are counted while the rest is read.
        Task<IReadOnlyList<(StationId Station, DateOnly Day, int Hours)>> useHours = measurements.UseHoursAsync(stations, from, end, rows.OnlyPlacements, cancel);
        ILookup<StationId, SeriesDay> days = await ReadDaysAsync(stations, season, asOf, rows.FleetZone, cancel);
        IReadOnlyDictionary<StationId, StationSetup>? all = stations.Count > 1 ? await setups.ReadAllAsync(end, rows.FleetZone, cancel) : null;
        rows.UseHours = (await useHours).ToLookup(row => row.Station, row => new UseHoursDay(row.Day, row.Hours));
        List<SeasonStation> parts = [];
        foreach (StationId station in stations)
        {
            if ((all is null ? await setups.ReadAsync(station, end, rows.FleetZone, cancel) : all.GetValueOrDefault(station)) is { } setup)
            {
                parts.Add(rows.Station(station, setup, [.. days[station]]));
            }
        }

        return new SeasonInput(season, asOf, parts) { SharedCost = rows.CoversAll ? rows.CostOf(null) : null };
    }

    private async Task<SeasonRows> ReadRowsAsync(
        IReadOnlyCollection<StationId> ids, Season season, DateTimeOffset from, DateTimeOffset end, AccessId? access, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IQueryable<Ticket> tickets = db.Tickets.Where(ticket => ids.Contains(ticket.StationId) && ticket.Rule != Rule.NewFind && ticket.Rule != Rule.SampleDue && ticket.Raised < end
            && (ticket.Closed == null || ticket.Closed >= from || ticket.DoneAt >= from));
        string? zone = await db.Settings.Where(setting => setting.Name == SettingNames.FleetTimeZone)
            .Select(setting => setting.Value).SingleOrDefaultAsync(cancel);
        return new SeasonRows
        {
            FleetZone = zone is null ? TimeZoneInfo.Utc : TimeZoneInfo.FindSystemTimeZoneById(zone),
            Stays = access is null ? null : await db.Placements
                .Where(placement => ids.Contains(placement.StationId) && placement.AccessId == access && placement.From < end).ToListAsync(cancel),
            Places = (await db.Placements.Where(placement => ids.Contains(placement.StationId) && placement.From < end)
                .Where(placement => access == null || placement.AccessId == access)
                .OrderBy(placement => placement.From)
                .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) =>
                    new { placement.StationId, Place = access.Name + ", " + access.Water })
                .ToListAsync(cancel)).ToLookup(row => row.StationId, row => row.Place),
            Tools = await db.Tools.Where(tool => ids.Contains(tool.StationId) && tool.Installed < end
                    && (tool.Removed == null || tool.Removed > from))
                .OrderBy(tool => tool.Installed).ToListAsync(cancel),
            PumpOuts = await db.PumpOuts.Where(pumpOut => ids.Contains(pumpOut.StationId) && pumpOut.At >= from && pumpOut.At < end)
                .ToListAsync(cancel),
            Tickets = await tickets.OrderBy(ticket => ticket.Number).ToListAsync(cancel),
            Events = (await db.TicketEvents.Where(happening => tickets.Any(ticket => ticket.Id == happening.TicketId))
                .ToListAsync(cancel)).ToLookup(happening => happening.TicketId),
            Visits = (await db.ServiceVisits.Where(visit => ids.Contains(visit.StationId) && visit.At >= from && visit.At < end)
                .Select(visit => new { visit.StationId, visit.At, visit.Minutes, visit.Hours }).ToListAsync(cancel)).ToLookup(visit => visit.StationId, visit =>
                    new VisitRecord(visit.At, visit.Minutes is { } minutes ? TimeSpan.FromMinutes(minutes) : null, visit.Hours)),
            Counts = await db.CountShiftsAsync(ids, from, end, access, cancel),
            Costs = await CostsAsync(db, season, cancel),
            CoversAll = access is null && !await db.Stations.AnyAsync(station => !ids.Contains(station.Id), cancel),
            Minutes = await db.ServiceVisits
                .Where(visit => visit.TicketId != null && visit.Minutes != null && tickets.Any(ticket => ticket.Id == visit.TicketId))
                .GroupBy(visit => visit.TicketId!.Value)
                .ToDictionaryAsync(visits => visits.Key, visits => visits.Sum(visit => visit.Minutes!.Value), cancel),
        };
    }

    private static async Task<ILookup<StationId?, (DateOnly Day, Money Amount)>> CostsAsync(FleetDbContext db, Season season, CancellationToken cancel)
    {
        List<TimeEntry> time = await db.TimeEntries.Where(entry => entry.Day >= season.FirstDay && entry.Day <= season.LastDay).ToListAsync(cancel);
        var costs = await db.CostEntries.Where(entry => entry.Day >= season.FirstDay && entry.Day <= season.LastDay)
            .Select(entry => new { entry.StationId, entry.Day, entry.Amount }).ToListAsync(cancel);
        return time.Select(entry => (entry.StationId, entry.Day, Amount: entry.Worth)).Concat(costs.Select(entry => (entry.StationId, entry.Day, entry.Amount)))
            .ToLookup(entry => entry.StationId, entry => (entry.Day, entry.Amount));
    }

    private async Task<ILookup<StationId, SeriesDay>> ReadDaysAsync(
        IReadOnlyCollection<StationId> stations, Season season, DateTimeOffset asOf, TimeZoneInfo zone, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(asOf, zone);
        DateOnly last = today < season.LastDay ? today : season.LastDay;
        HashSet<string> names = new(StringComparer.Ordinal);
        foreach (StationId station in stations)
        {
            names.UnionWith(await measurements.NamesAsync(station, cancel));
        }

        IReadOnlyList<SeriesDay> days = await measurements.DaysAsync(stations, names, season.FirstDay.AddDays(-DaysBefore), last, cancel);
        return (today > season.LastDay ? days : await CutAsync(days, stations, names, today, asOf, zone, cancel)).ToLookup(day => day.Station);
    }

    // A day's sum may hold hours that had not come yet: the last day is made of its hours.
    private async Task<IReadOnlyList<SeriesDay>> CutAsync(
        IReadOnlyList<SeriesDay> days, IReadOnlyCollection<StationId> stations, HashSet<string> names, DateOnly today, DateTimeOffset asOf, TimeZoneInfo zone, CancellationToken cancel)
    {
        List<SeriesDay> cut = [.. days.Where(day => day.RollUp.Day < today)];
        foreach (StationId station in stations)
        {
            IReadOnlyList<SeriesHour> hours = await measurements.HoursAsync(station, names, LocalCalendar.StartOf(today, zone) - Margin, asOf, cancel);
            cut.AddRange(hours.Where(hour => hour.RollUp.Key.Day == today).GroupBy(hour => (hour.Name, hour.RollUp.Key.Placement))
                .Select(hour => new SeriesDay(station, hour.Key.Name, DayRollUp.Of([.. hour.Select(row => row.RollUp)]))));
        }

        return cut;
    }

    private static DateTimeOffset Midnight(DateOnly day) => new(day, TimeOnly.MinValue, TimeSpan.Zero);
}
