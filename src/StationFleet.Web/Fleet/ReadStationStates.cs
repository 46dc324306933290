using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;

namespace StationFleet.Web.Fleet;

/// <summary>Reads where each station stands and how it is: the one place that decides a condition.</summary>
public sealed class ReadStationStates(
    IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements, FleetClock clock, Microsoft.Extensions.Options.IOptions<FleetOptions> options)
{
    /// <summary>One station now.</summary>
    public sealed record State(
        StationId Id,
        string Code,
        bool IsPortable,
        AccessId? Access,
        string Place,
        TimeZoneInfo Zone,
        StationCondition Condition,
        DateTimeOffset? LastHeard,
        int OpenTickets,
        AccessClosure? Closure,
        DateTimeOffset? InTransitSince);

    public async Task<IReadOnlyList<State>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Station> stations = await db.Stations.AsNoTracking().VisibleTo(viewer).OrderBy(station => station.Code).ToListAsync(cancel);
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        ILookup<StationId, Placement> placements = (await db.Placements.AsNoTracking().Where(p => p.From <= now).ToListAsync(cancel))
            .ToLookup(placement => placement.StationId);
        Dictionary<AccessId, AccessClosure> closures = (await db.AccessClosures.AsNoTracking()
            .Where(closure => closure.From <= now && (closure.To == null || closure.To > now)).ToListAsync(cancel))
            .DistinctBy(closure => closure.AccessId).ToDictionary(closure => closure.AccessId);
        HashSet<StationId> winterized = [.. await db.WinterStorages
            .Where(winter => winter.From <= now && (winter.To == null || winter.To > now)).Select(winter => winter.StationId).ToListAsync(cancel)];
        ILookup<StationId, ProblemRow> problems = (await db.Problems.AsNoTracking().ToListAsync(cancel)).ToLookup(problem => problem.StationId);
        HashSet<StationId> needingVisit =
            [.. await TicketList.NeedingVisit(db.Tickets, now).Select(ticket => ticket.StationId).Distinct().ToListAsync(cancel)];
        Dictionary<StationId, int> open = await db.Tickets.Where(ticket => ticket.State != TicketState.Closed)
            .GroupBy(ticket => ticket.StationId).Select(own => new { own.Key, Count = own.Count() }).ToDictionaryAsync(own => own.Key, own => own.Count, cancel);
        IReadOnlyDictionary<StationId, DateTimeOffset> heard = await measurements.LastHeardAsync(cancel);

        return [.. stations.Select(station =>
        {
            Placement? last = placements[station.Id].MaxBy(placement => placement.From);
            Placement? placement = last is { } stay && (stay.To is null || stay.To > now) ? stay : null;
            Access? access = placement is null ? null : accesses[placement.AccessId];
            AccessClosure? closure = placement is null ? null : closures.GetValueOrDefault(placement.AccessId);
            ConditionFacts facts = new(
                winterized.Contains(station.Id),
                placement is not null,
                closure is not null,
                problems[station.Id].Any(problem => problem.Rule == Rule.NotReporting),
                needingVisit.Contains(station.Id),
                problems[station.Id].Any(problem => problem.Urgency == Urgency.DueSoon));
            return new State(
                station.Id, station.Code, station.IsPortable, placement?.AccessId,
                access is null ? "on the road" : $"{access.Name}, {access.Water}",
                access?.Zone ?? options.Value.Zone,
                facts.Condition,
                heard.TryGetValue(station.Id, out DateTimeOffset at) ? at : null,
                open.GetValueOrDefault(station.Id),
                closure,
                placement is null ? last?.To : null);
        })];
    }
}
