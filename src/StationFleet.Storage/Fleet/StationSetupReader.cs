using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Fleet;

/// <summary>Reads all that the watch and the season summary need to know of a station beside its measurements.</summary>
public sealed class StationSetupReader(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>A station's setup at an instant; null when there is no such station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="now">The instant: tools, tank and power are those of then.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<StationSetup?> ReadAsync(StationId station, DateTimeOffset now, TimeZoneInfo fleetZone, CancellationToken cancel) =>
        (await ReadHistoryAsync(station, fleetZone, cancel))?.At(now);

    /// <summary>A station's setup at all instants; null when there is no such station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="fleetZone">The time zone of a station that never stood anywhere.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<StationSetupHistory?> ReadHistoryAsync(StationId station, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        Station? row = await db.Stations.SingleOrDefaultAsync(s => s.Id == station, cancel);
        if (row is null)
        {
            return null;
        }

        List<Placement> placements = await db.Placements.Where(p => p.StationId == station).OrderBy(p => p.From).ToListAsync(cancel);
        AccessId[] accesses = [.. placements.Select(placement => placement.AccessId).Distinct()];
        TankHistory tank = await db.TankHistoryAsync(station, cancel);
        return new StationSetupHistory
        {
            Station = row,
            Placements = placements,
            Accesses = await db.Accesses.Where(access => accesses.Contains(access.Id)).ToDictionaryAsync(access => access.Id, cancel),
            FleetZone = fleetZone,
            Tools = await db.Tools.Where(tool => tool.StationId == station).OrderBy(tool => tool.Id).ToListAsync(cancel),
            Tank = tank,
            Dips = await db.TankDipsAsync(station, tank, cancel),
            Powers = await db.StationPowers.Where(power => power.StationId == station).OrderBy(power => power.From).ToListAsync(cancel),
            Rules = (await db.StationRules.SingleOrDefaultAsync(rules => rules.StationId == station, cancel))?.Settings ?? RuleSettings.Default,
            Quiet = await QuietAsync(db, row, placements, cancel),
            Service = await ServiceAsync(db, station, cancel),
            KnownDays = await db.KnownDays.OrderBy(known => known.FirstDay).ThenBy(known => known.Id).ToListAsync(cancel),
            ServerDown =
            [
                .. (await db.ServerDowntimes.OrderBy(down => down.From).ToListAsync(cancel)).Select(down => new UtcInterval(down.From, down.To)),
            ],
        };
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
