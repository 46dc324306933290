using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;

namespace StationFleet.Storage.Fleet;

/// <summary>Reads all that the watch and the season summary need to know of a station beside its measurements.</summary>
public sealed class StationSetupReader(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>A station's setup at an instant; null when there is no such station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="now">The instant: tools, tank and power are those of then.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<StationSetup?> ReadAsync(StationId station, DateTimeOffset now, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? row = await db.Stations.AsNoTracking().SingleOrDefaultAsync(s => s.Id == station, cancel);
        if (row is null)
        {
            return null;
        }

        List<Placement> placements = await db.Placements.AsNoTracking()
            .Where(p => p.StationId == station).OrderBy(p => p.From).ToListAsync(cancel);
        List<Tool> tools = await db.Tools.AsNoTracking()
            .Where(tool => tool.StationId == station && tool.Installed <= now && (tool.Removed == null || tool.Removed > now))
            .OrderBy(tool => tool.Id).ToListAsync(cancel);
        StationTank? tank = await db.StationTanks.AsNoTracking()
            .Where(t => t.StationId == station && t.From <= now).OrderByDescending(t => t.From).FirstOrDefaultAsync(cancel);
        StationPower? power = await db.StationPowers.AsNoTracking()
            .Where(p => p.StationId == station && p.From <= now).OrderByDescending(p => p.From).FirstOrDefaultAsync(cancel);
        StationRules? rules = await db.StationRules.AsNoTracking().SingleOrDefaultAsync(r => r.StationId == station, cancel);

        return new StationSetup(
            row.Code,
            await ZoneAsync(db, placements, now, fleetZone, cancel),
            row.Created,
            row.ReportEvery,
            [.. tools.Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.IdleAfterDays, tool.UsesWrapAt))],
            tank is null ? null : new TankSetup(tank.CapacityLitres, tank.HeightM, tank.SensorHeightM),
            power is null ? null : new PowerSetup(
                power.Chemistry, power.CapacityAh, power.NominalVolts, power.PanelWatts, power.TiltDeg, power.AzimuthDeg),
            rules?.Settings ?? RuleSettings.Default,
            [.. await QuietAsync(db, row, placements, cancel)])
        {
            Places = await PlacesAsync(db, placements, cancel),
            Service = await ServiceAsync(db, station, cancel),
            Events = await EventsAsync(db, placements, now, cancel),
            ServerDown = await ServerDownAsync(db, now, cancel),
        };
    }

    // In transit a station keeps the days of the access that it came from.
    private static async Task<TimeZoneInfo> ZoneAsync(
        FleetDbContext db, List<Placement> placements, DateTimeOffset now, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        Placement? last = placements.LastOrDefault(placement => placement.From <= now);
        return last is null ? fleetZone : (await db.Accesses.AsNoTracking().SingleAsync(a => a.Id == last.AccessId, cancel)).Zone;
    }

    private static async Task<IReadOnlyList<StandingPlace>> PlacesAsync(FleetDbContext db, List<Placement> placements, CancellationToken cancel)
    {
        AccessId[] ids = [.. placements.Select(placement => placement.AccessId).Distinct()];
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking()
            .Where(access => ids.Contains(access.Id)).ToDictionaryAsync(access => access.Id, cancel);
        return
        [
            .. from placement in placements
               let access = accesses[placement.AccessId]
               select new StandingPlace(access.Name, access.Latitude, access.Longitude, placement.From, placement.To),
        ];
    }

    private static async Task<ServiceLog> ServiceAsync(FleetDbContext db, StationId station, CancellationToken cancel)
    {
        var visits = await db.ServiceVisits.AsNoTracking().Where(visit => visit.StationId == station)
            .OrderBy(visit => visit.At).Select(visit => new { visit.At, visit.Minutes }).ToListAsync(cancel);
        var closed = await db.Tickets.AsNoTracking()
            .Where(ticket => ticket.StationId == station && ticket.State == TicketState.Closed
                && (ticket.Outcome == TicketOutcome.Fixed || ticket.Outcome == TicketOutcome.NothingWrong))
            .Select(ticket => new { ticket.Rule, ticket.Part, ticket.Raised, ticket.DoneAt, ticket.Closed, ticket.Outcome }).ToListAsync(cancel);
        return new ServiceLog(
            [.. visits.Select(visit => ServiceLog.VisitEndingAt(visit.At, visit.Minutes))],
            [
                .. from ticket in closed
                   let done = Ticket.DoneBetween(ticket.Raised, ticket.DoneAt, ticket.Closed)
                   orderby done
                   select new TicketFinding(ticket.Rule, ticket.Part, done, ticket.Outcome == TicketOutcome.NothingWrong),
            ]);
    }

    private static async Task<IReadOnlyList<UtcInterval>> ServerDownAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        DateTimeOffset since = now.AddDays(-31);
        return
        [
            .. (await db.ServerDowntimes.AsNoTracking().Where(down => down.To > since).OrderBy(down => down.From).ToListAsync(cancel))
                .Select(down => new UtcInterval(down.From, down.To)),
        ];
    }

    // A station that moves takes the events of the access where it stands now; those of all accesses go with it anyway.
    private static async Task<IReadOnlyList<KnownEvent>> EventsAsync(
        FleetDbContext db, List<Placement> placements, DateTimeOffset now, CancellationToken cancel)
    {
        AccessId? access = placements.LastOrDefault(placement => placement.From <= now)?.AccessId;
        return
        [
            .. (await db.KnownDays.AsNoTracking().Where(known => known.AccessId == null || known.AccessId == access)
                .OrderBy(known => known.FirstDay).ThenBy(known => known.Id).ToListAsync(cancel))
                .Select(known => new KnownEvent(known.Name, known.FirstDay, known.LastDay, known.Factor)),
        ];
    }

    private static async Task<List<QuietPeriod>> QuietAsync(
        FleetDbContext db, Station station, List<Placement> placements, CancellationToken cancel)
    {
        List<WinterStorage> winters = await db.WinterStorages.AsNoTracking().Where(w => w.StationId == station.Id).ToListAsync(cancel);
        AccessId[] accesses = [.. placements.Select(placement => placement.AccessId).Distinct()];
        List<AccessClosure> closures = await db.AccessClosures.AsNoTracking()
            .Where(closure => accesses.Contains(closure.AccessId)).ToListAsync(cancel);
        return
        [
            .. winters.Select(winter => new QuietPeriod(QuietReason.Winterized, winter.From, winter.To)),
            .. InTransit(station.Created, placements),
            .. Closed(placements, closures),
        ];
    }

    private static IEnumerable<QuietPeriod> InTransit(DateTimeOffset created, List<Placement> placements)
    {
        DateTimeOffset? freeFrom = created;
        foreach (Placement placement in placements)
        {
            if (freeFrom is null)
            {
                yield break;
            }

            if (freeFrom < placement.From)
            {
                yield return new QuietPeriod(QuietReason.InTransit, freeFrom.Value, placement.From);
            }

            freeFrom = placement.To is { } to && to < freeFrom ? freeFrom : placement.To;
        }

        if (freeFrom is { } from)
        {
            yield return new QuietPeriod(QuietReason.InTransit, from, null);
        }
    }

    // A closed access concerns a station only while it stands there.
    private static IEnumerable<QuietPeriod> Closed(List<Placement> placements, List<AccessClosure> closures) =>
        from placement in placements
        join closure in closures on placement.AccessId equals closure.AccessId
        let start = placement.From > closure.From ? placement.From : closure.From
        let end = (placement.To ?? DateTimeOffset.MaxValue) < (closure.To ?? DateTimeOffset.MaxValue) ? placement.To : closure.To
        where end is null || start < end
        select new QuietPeriod(QuietReason.AccessClosed, start, end);
}
