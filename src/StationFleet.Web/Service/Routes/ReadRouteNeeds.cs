using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Why anybody has to drive: the open tickets that need a visit. Whatever else leads to a visit is added here.</summary>
internal sealed class ReadRouteNeeds(FleetClock clock, IOptions<FleetOptions> options)
{
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
        return new Result(
            [.. open.Where(row => row.Access is not null).Select(row => Need(row.Ticket, row.Station, row.Access!.Value, now, settings))],
            [.. open.Where(row => row.Access is null).Select(row => row.Station).Distinct()]);
    }

    private RouteNeed Need(Ticket ticket, string station, AccessId access, DateTimeOffset now, RouteSettings settings)
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
            Bring = RouteWork.Bring(evidence),
            Cautions = Cautions.For(ticket.Rule),
        };
    }
}
