using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Fleet;

/// <summary>The rows that setups are made of, for one station or for all.</summary>
internal sealed class SetupRows
{
    private const int DaysOfVisits = 60;
    private const int DaysOfFindings = 1100;
    private const int DaysOfDowntimes = 31;
    private const int DaysOfPlans = 120;

    private List<Station> Stations { get; set; } = [];

    private Dictionary<AccessId, Access> Accesses { get; set; } = [];

    private ILookup<StationId, Placement> Placements { get; set; } = null!;

    private ILookup<StationId, Tool> Tools { get; set; } = null!;

    private ILookup<StationId, StationPower> Powers { get; set; } = null!;

    private ILookup<StationId, WinterStorage> Winters { get; set; } = null!;

    private ILookup<AccessId, AccessClosure> Closures { get; set; } = null!;

    private ILookup<StationId, UtcInterval> Visits { get; set; } = null!;

    private ILookup<StationId, TicketFinding> Findings { get; set; } = null!;

    private IReadOnlyDictionary<StationId, TankHistory> Tanks { get; set; } = null!;

    private Dictionary<StationId, RuleSettings> Rules { get; set; } = [];

    private HashSet<StationId> Dipped { get; set; } = [];

    private List<SamplePlan> Plans { get; set; } = [];

    private List<KnownDays> KnownDays { get; set; } = [];

    private IReadOnlyList<UtcInterval> ServerDown { get; set; } = [];

    /// <param name="db">The database.</param>
    /// <param name="station">The one station, or null: all of them.</param>
    /// <param name="now">What is too old to matter by then is left out; null: nothing is.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<SetupRows> ReadAsync(FleetDbContext db, StationId? station, DateTimeOffset? now, CancellationToken cancel)
    {
        DateTimeOffset Since(int days) => now?.AddDays(-days) ?? DateTimeOffset.MinValue;
        (DateTimeOffset visitsSince, DateTimeOffset findingsSince, DateTimeOffset downSince) =
            (Since(DaysOfVisits), Since(DaysOfFindings), Since(DaysOfDowntimes));
        DateOnly plansSince = DateOnly.FromDateTime(Since(DaysOfPlans).UtcDateTime);
        var closed = await db.Tickets.AsNoTracking()
            .Where(ticket => (station == null || ticket.StationId == station) && ticket.State == TicketState.Closed && ticket.Closed > findingsSince
                && (ticket.Outcome == TicketOutcome.Fixed || ticket.Outcome == TicketOutcome.NothingWrong))
            .Select(ticket => new { ticket.StationId, ticket.Rule, ticket.Part, ticket.Raised, ticket.DoneAt, ticket.Closed, ticket.Outcome })
            .ToListAsync(cancel);
        return new SetupRows
        {
            Stations = await db.Stations.AsNoTracking().Where(row => station == null || row.Id == station).OrderBy(row => row.Id).ToListAsync(cancel),
            Accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel),
            Placements = (await db.Placements.AsNoTracking().Where(row => station == null || row.StationId == station)
                .OrderBy(placement => placement.From).ToListAsync(cancel)).ToLookup(placement => placement.StationId),
            Tools = (await db.Tools.AsNoTracking().Where(tool => station == null || tool.StationId == station)
                .OrderBy(tool => tool.Id).ToListAsync(cancel)).ToLookup(tool => tool.StationId),
            Powers = (await db.StationPowers.AsNoTracking().Where(power => station == null || power.StationId == station)
                .OrderBy(power => power.From).ToListAsync(cancel)).ToLookup(power => power.StationId),
            Winters = (await db.WinterStorages.AsNoTracking().Where(row => station == null || row.StationId == station)
                .ToListAsync(cancel)).ToLookup(winter => winter.StationId),
            Closures = (await db.AccessClosures.AsNoTracking().ToListAsync(cancel)).ToLookup(closure => closure.AccessId),
            Visits = (await db.ServiceVisits.AsNoTracking().Where(visit => (station == null || visit.StationId == station) && visit.At > visitsSince)
                .OrderBy(visit => visit.At).Select(visit => new { visit.StationId, visit.At, visit.Minutes }).ToListAsync(cancel))
                .ToLookup(visit => visit.StationId, visit => ServiceLog.VisitEndingAt(visit.At, visit.Minutes)),
            Findings = closed.Select(ticket => (ticket.StationId, Finding: new TicketFinding(
                    ticket.Rule, ticket.Part, Ticket.DoneBetween(ticket.Raised, ticket.DoneAt, ticket.Closed), ticket.Outcome == TicketOutcome.NothingWrong)))
                .OrderBy(row => row.Finding.At).ToLookup(row => row.StationId, row => row.Finding),
            Tanks = station is { } one
                ? new Dictionary<StationId, TankHistory> { [one] = await db.TankHistoryAsync(one, cancel) }
                : await db.TankHistoriesAsync(cancel),
            Rules = await db.StationRules.AsNoTracking().Where(row => station == null || row.StationId == station)
                .ToDictionaryAsync(row => row.StationId, row => row.Settings, cancel),
            Dipped = [.. await db.PumpOuts.AsNoTracking().Where(row => (station == null || row.StationId == station) && (row.DipLitres != null || row.DipLevelM != null))
                .Select(row => row.StationId).Distinct().ToListAsync(cancel)],
            Plans = await db.SamplePlans.AsNoTracking().Where(plan => (station == null || plan.StationId == station) && plan.Due >= plansSince)
                .OrderBy(plan => plan.Due).ToListAsync(cancel),
            KnownDays = await db.KnownDays.AsNoTracking().OrderBy(known => known.FirstDay).ThenBy(known => known.Id).ToListAsync(cancel),
            ServerDown = [.. (await db.ServerDowntimes.AsNoTracking().Where(down => down.To > downSince).OrderBy(down => down.From).ToListAsync(cancel))
                .Select(down => new UtcInterval(down.From, down.To))],
        };
    }

    /// <summary>The setups, each through time.</summary>
    public async Task<IReadOnlyDictionary<StationId, StationSetupHistory>> HistoriesAsync(
        FleetDbContext db, TimeZoneInfo fleetZone, CancellationToken cancel)
    {
        Dictionary<StationId, StationSetupHistory> histories = [];
        ILookup<StationId, PlannedTaking> takings = await db.FollowAsync(
            Plans, station => Placements[station].LastOrDefault() is { } last ? Accesses[last.AccessId].Zone : fleetZone, cancel);
        foreach (Station station in Stations)
        {
            Placement[] placements = [.. Placements[station.Id]];
            TankHistory tank = Tanks.GetValueOrDefault(station.Id) ?? TankHistory.None;
            histories.Add(station.Id, new StationSetupHistory
            {
                Station = station,
                FleetZone = fleetZone,
                Placements = placements,
                Accesses = Accesses,
                Tools = [.. Tools[station.Id]],
                Powers = [.. Powers[station.Id]],
                KnownDays = KnownDays,
                Always = new StationSetup(
                    station.Code,
                    fleetZone,
                    station.Created,
                    station.ReportEvery,
                    [],
                    tank,
                    null,
                    Rules.GetValueOrDefault(station.Id) ?? RuleSettings.Default,
                    [
                        .. Winters[station.Id].Select(winter => new QuietPeriod(QuietReason.Winterized, winter.From, winter.To)),
                        .. InTransit(station.Created, placements),
                        .. Closed(placements),
                    ])
                {
                    Dips = Dipped.Contains(station.Id) ? await db.TankDipsAsync(station.Id, tank, cancel) : [],
                    Places = [.. placements.Select(placement => StandingPlace(placement, Accesses[placement.AccessId]))],
                    Service = new ServiceLog([.. Visits[station.Id]], [.. Findings[station.Id]]),
                    Takings = [.. takings[station.Id]],
                    ServerDown = ServerDown,
                },
            });
        }

        return histories;
    }

    private static StandingPlace StandingPlace(Placement placement, Access access) =>
        new(access.Name, access.Latitude, access.Longitude, placement.From, placement.To);

    private static IEnumerable<QuietPeriod> InTransit(DateTimeOffset created, IReadOnlyList<Placement> placements)
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
    private IEnumerable<QuietPeriod> Closed(IReadOnlyList<Placement> placements) =>
        from placement in placements
        from closure in Closures[placement.AccessId]
        let start = placement.From > closure.From ? placement.From : closure.From
        let end = (placement.To ?? DateTimeOffset.MaxValue) < (closure.To ?? DateTimeOffset.MaxValue) ? placement.To : closure.To
        where end is null || start < end
        select new QuietPeriod(QuietReason.AccessClosed, start, end);
}
