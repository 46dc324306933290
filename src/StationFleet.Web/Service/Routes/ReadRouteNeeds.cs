using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Why anybody has to drive: the open tickets that need a visit, and what will be one within two days, a planned sample among them.</summary>
internal sealed class ReadRouteNeeds(FleetClock clock, IOptions<FleetOptions> options)
{
    private static readonly TimeSpan Ahead = TimeSpan.FromDays(2);

    /// <param name="Needs">At accesses.</param>
    /// <param name="InTransit">Stations with open tickets that stand at no access.</param>
    internal sealed record Result(IReadOnlyList<RouteNeed> Needs, IReadOnlyList<string> InTransit);

    /// <param name="db">The database.</param>
    /// <param name="viewer">Who asks.</param>
    /// <param name="person">Whose: tickets that nobody has, and this person's; null takes everybody's.</param>
    /// <param name="at">Where stations will stand then.</param>
    /// <param name="settings">How long the work takes.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<Result> HandleAsync(
        FleetDbContext db, Viewer viewer, string? person, DateTimeOffset at, RouteSettings settings, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        var open = await TicketList.NeedingVisit(TicketList.VisibleTo(db, viewer), now)
            .Where(ticket => person == null || ticket.State == TicketState.New || ticket.TakenById == person)
            .OrderBy(ticket => ticket.Number)
            .Select(ticket => new
            {
                Ticket = ticket,
                Station = db.Stations.Where(station => station.Id == ticket.StationId).Select(station => station.Code).First(),
                Access = db.Placements.Where(placement => placement.StationId == ticket.StationId && placement.From <= at && (placement.To == null || placement.To > at))
                    .OrderByDescending(placement => placement.From).Select(placement => (AccessId?)placement.AccessId).FirstOrDefault(),
            })
            .AsNoTracking()
            .ToListAsync(cancel);
        Guidance guidance = await db.GuidanceAsync(cancel);
        return new Result(
            [
                .. open.Where(row => row.Access is not null).Select(row => Need(row.Ticket, row.Station, row.Access!.Value, now, settings, guidance)),
                .. await ComingAsync(db, viewer, at, now, settings, guidance, cancel),
            ],
            [.. open.Where(row => row.Access is null).Select(row => row.Station).Distinct()]);
    }

    // A tank or a battery that will be a ticket soon is done on the way rather than driven to again; so is a sample that falls due after that day.
    private async Task<IEnumerable<RouteNeed>> ComingAsync(
        FleetDbContext db, Viewer viewer, DateTimeOffset at, DateTimeOffset now, RouteSettings settings, Guidance guidance, CancellationToken cancel)
    {
        var soon = await db.Problems.AsNoTracking()
            .Where(problem => problem.Urgency == Urgency.DueSoon && (problem.Rule == Rule.TankFilling || problem.Rule == Rule.LowCharge || problem.Rule == Rule.SampleDue))
            .Where(problem => db.Stations.VisibleTo(viewer).Any(station => station.Id == problem.StationId))
            .Where(problem => !db.Tickets.Any(ticket => ticket.StationId == problem.StationId && ticket.Rule == problem.Rule && ticket.Part == problem.Part && ticket.State != TicketState.Closed))
            .Select(problem => new
            {
                problem.Rule,
                problem.Evidence,
                Station = db.Stations.Where(station => station.Id == problem.StationId).Select(station => station.Code).First(),
                Access = db.Placements.Where(placement => placement.StationId == problem.StationId && placement.From <= at && (placement.To == null || placement.To > at))
                    .OrderByDescending(placement => placement.From).Select(placement => (AccessId?)placement.AccessId).FirstOrDefault(),
            })
            .OrderBy(row => row.Station)
            .ToListAsync(cancel);
        return from row in soon
               where row.Access is not null
               let evidence = WatchJson.Read<Evidence>(row.Evidence)
               let early = evidence switch
               {
                   TankFillingEvidence tank => tank.Full?.Early,
                   LowChargeEvidence charge => charge.Forecast?.Early,
                   SampleDueEvidence sample => sample.By,
                   _ => null,
               }
               where early - (row.Rule == Rule.SampleDue ? at : now) <= Ahead
               select new RouteNeed(
                   row.Access!.Value,
                   row.Station,
                   ProblemSentences.Sentence(evidence, Urgency.DueSoon, new Reader(options.Value.Units, options.Value.Zone, now)),
                   settings.MinutesFor(row.Rule),
                   RoutePriority.CanWait)
               {
                   Before = early, Bring = RouteWork.Bring(evidence), Cautions = guidance.CautionsFor(row.Rule),
               };
    }

    private RouteNeed Need(Ticket ticket, string station, AccessId access, DateTimeOffset now, RouteSettings settings, Guidance guidance)
    {
        Evidence evidence = WatchJson.Read<Evidence>(ticket.Evidence);
        return new RouteNeed(
            access,
            station,
            ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, new Reader(options.Value.Units, options.Value.Zone, now)),
            settings.MinutesFor(ticket.Rule),
            RouteWork.Priority(evidence, now - ticket.Raised, ticket.TimesReopened > 0))
        {
            Ticket = ticket.Number,
            Before = (evidence as SampleDueEvidence)?.By,
            Bring = RouteWork.Bring(evidence),
            Cautions = guidance.CautionsFor(ticket.Rule),
        };
    }
}
