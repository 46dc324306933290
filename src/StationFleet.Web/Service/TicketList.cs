using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>A ticket as lists show it: public, since a page keeps it between prerendering and its circuit.</summary>
/// <param name="Place">Where the station stood; null in transit.</param>
/// <param name="Title">What to do.</param>
/// <param name="Why">The reason, with its numbers.</param>
/// <param name="Since">When the ticket was raised, in words of the access's time.</param>
/// <param name="ClosedAt">When the work was done, in words; null while open.</param>
/// <param name="Snooze">The snooze that it is in; null when it is in none.</param>
/// <param name="Seen">The newest event shown with it.</param>
public sealed record TicketRow(
    int Number, StationId StationId, string Station, string? Place, string Title, string Why, string Since, TicketState State,
    bool IsYours, string? TakenBy, bool ProblemCleared, int TimesReopened, TicketOutcome? Outcome, string? ClosedAt, string? ClosedBy,
    TimeSpan? TimeToClose, Snooze? Snooze, int Version, int Seen);

/// <summary>Reads tickets and puts them into words; every page that lists tickets shares it.</summary>
public sealed class TicketList(FleetClock clock, IOptions<FleetOptions> options)
{
    private sealed record Stored(
        Ticket Ticket, string Station, string? AccessName, string? Water, string? TimeZone, string? TakenBy, string? ClosedBy,
        string? SnoozedBy, string? SnoozeNote, int Seen);

    public static IQueryable<Ticket> VisibleTo(FleetDbContext db, Viewer viewer) =>
        db.Tickets.Where(ticket => db.Stations.VisibleTo(viewer).Any(station => station.Id == ticket.StationId));

    /// <summary>Open tickets that are not snoozed.</summary>
    public static IQueryable<Ticket> Awake(IQueryable<Ticket> tickets, DateTimeOffset now) => tickets.Where(ticket =>
        ticket.State != TicketState.Closed && (ticket.SnoozedUntil == null || ticket.SnoozedUntil <= now));

    /// <summary>Open tickets that are snoozed.</summary>
    public static IQueryable<Ticket> Asleep(IQueryable<Ticket> tickets, DateTimeOffset now) => tickets.Where(ticket =>
        ticket.State != TicketState.Closed && ticket.SnoozedUntil > now);

    /// <summary>Tickets for which somebody has to drive: not new finds, nor those whose problem cleared before their snooze was over.</summary>
    public static IQueryable<Ticket> NeedingVisit(IQueryable<Ticket> tickets, DateTimeOffset now) => Awake(tickets, now).Where(ticket =>
        ticket.Rule != Rule.NewFind && (ticket.SnoozedUntil == null || ticket.ProblemCleared == null || ticket.ProblemCleared > ticket.SnoozedUntil));

    public async Task<IReadOnlyList<TicketRow>> ReadAsync(
        FleetDbContext db, IQueryable<Ticket> tickets, Viewer viewer, CancellationToken cancel)
    {
        List<Stored> rows = await tickets
            .Select(ticket => new Stored(
                ticket,
                db.Stations.Where(station => station.Id == ticket.StationId).Select(station => station.Code).First(),
                db.Accesses.Where(access => access.Id == ticket.AccessId).Select(access => access.Name).FirstOrDefault(),
                db.Accesses.Where(access => access.Id == ticket.AccessId).Select(access => access.Water).FirstOrDefault(),
                db.Accesses.Where(access => access.Id == ticket.AccessId).Select(access => access.TimeZone).FirstOrDefault(),
                db.Users.Where(user => user.Id == ticket.TakenById).Select(user => user.DisplayName).FirstOrDefault(),
                db.Users.Where(user => user.Id == ticket.ClosedById).Select(user => user.DisplayName).FirstOrDefault(),
                db.TicketEvents.Where(happening => happening.TicketId == ticket.Id && happening.Kind == TicketEventKind.Snoozed)
                    .OrderByDescending(happening => happening.Id).Select(happening => happening.Who).FirstOrDefault(),
                db.TicketEvents.Where(happening => happening.TicketId == ticket.Id && happening.Kind == TicketEventKind.Snoozed)
                    .OrderByDescending(happening => happening.Id).Select(happening => happening.Note).FirstOrDefault(),
                db.TicketEvents.Where(happening => happening.TicketId == ticket.Id).Max(happening => (int?)happening.Id) ?? 0))
            .AsNoTracking()
            .ToListAsync(cancel);
        return [.. rows.Select(row => Row(row, viewer))];
    }

    private TicketRow Row(Stored row, Viewer viewer)
    {
        DateTimeOffset now = clock.GetUtcNow();
        Ticket ticket = row.Ticket;
        TimeZoneInfo zone = row.TimeZone is { } id ? TimeZoneInfo.FindSystemTimeZoneById(id) : options.Value.Zone;
        Evidence evidence = WatchJson.Read<Evidence>(ticket.Evidence);
        DateTimeOffset? done = ticket.State == TicketState.Closed ? ticket.DoneAt ?? ticket.Closed : null;
        return new TicketRow(
            ticket.Number,
            ticket.StationId,
            row.Station,
            row.AccessName is null ? null : $"{row.AccessName}, {row.Water}",
            ProblemSentences.Title(evidence),
            ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, new Reader(options.Value.Units, zone, now)),
            Domain.Time.SpokenTime.At(ticket.Raised, now, zone),
            ticket.State,
            ticket.TakenById == viewer.UserId,
            row.TakenBy,
            ticket.ProblemCleared is not null,
            ticket.TimesReopened,
            ticket.Outcome,
            done is { } at ? Domain.Time.SpokenTime.At(at, now, zone) : null,
            row.ClosedBy,
            done is { } end && end > ticket.Raised ? end - ticket.Raised : done is null ? null : TimeSpan.Zero,
            ticket.State == TicketState.Closed ? null : Snooze.Of(ticket.SnoozedUntil, row.SnoozedBy, row.SnoozeNote, now, zone),
            ticket.Version,
            row.Seen);
    }
}
