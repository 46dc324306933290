using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service;

/// <summary>
/// What taking, giving back, snoozing, noting and closing have in common: one transaction in which the form's key is looked up, other
/// people's doings since the form was made are looked for, and the ticket's version goes up.
/// </summary>
internal sealed class TicketDesk(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    /// <summary>Those that change what a person thought they were doing; the watch's own doings and notes don't.</summary>
    private static readonly TicketEventKind[] Decisions =
    [
        TicketEventKind.Taken, TicketEventKind.Released, TicketEventKind.Closed, TicketEventKind.Reopened,
        TicketEventKind.Snoozed, TicketEventKind.SnoozeEnded,
    ];

    /// <summary>The ticket within the transaction.</summary>
    internal sealed record Desk(FleetDbContext Db, Ticket Ticket, DateTimeOffset Now);

    public static bool MayAct(Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Technician, FleetRoles.Biologist, FleetRoles.Administrator]);

    public async Task<TicketAnswer> ActAsync(
        TicketForm form, bool mindsOthers, Func<Desk, Task<TicketAnswer>> act, CancellationToken cancel) =>
        await databases.WriteAsync(db => ActAsync(db, form, mindsOthers, act, cancel), cancel);

    /// <summary>The same within a transaction of the caller's.</summary>
    public async Task<TicketAnswer> ActAsync(
        FleetDbContext db, TicketForm form, bool mindsOthers, Func<Desk, Task<TicketAnswer>> act, CancellationToken cancel)
    {
        if (!MayAct(form.Viewer))
        {
            return new TicketAnswer.NotAllowed();
        }

        if (!FormKey.IsWhole(form.Key))
        {
            return new TicketAnswer.Wrong(new Dictionary<string, string> { [""] = FormKey.NotWhole });
        }

        return await DecideAsync(db, form, mindsOthers, act, cancel);
    }

    private async Task<TicketAnswer> DecideAsync(
        FleetDbContext db, TicketForm form, bool mindsOthers, Func<Desk, Task<TicketAnswer>> act, CancellationToken cancel)
    {
        Ticket? ticket = await db.Tickets.FirstOrDefaultAsync(
            row => row.Number == form.Number && db.Stations.VisibleTo(form.Viewer).Any(station => station.Id == row.StationId), cancel);
        if (ticket is null)
        {
            return new TicketAnswer.Unknown();
        }

        if (await db.TicketEvents.AnyAsync(happening => happening.IdempotencyKey == form.Key, cancel))
        {
            return new TicketAnswer.AlreadyDone();
        }

        if (mindsOthers && await MeanwhileAsync(db, ticket, form.Version, form.Seen, form.Own, cancel) is { Count: > 0 } meanwhile)
        {
            return new TicketAnswer.Changed(meanwhile);
        }

        TicketAnswer answer = await act(new Desk(db, ticket, clock.GetUtcNow()));
        if (answer is TicketAnswer.Done)
        {
            ticket.Version++;
        }

        return answer;
    }

    /// <summary>What other people decided about a ticket since a form showed it.</summary>
    public static async Task<IReadOnlyList<Happening>> MeanwhileAsync(
        FleetDbContext db, Ticket ticket, int version, int seen, IReadOnlyList<string> own, CancellationToken cancel) =>
        ticket.Version == version
            ? []
            : await db.TicketEvents // A newer version alone may only mean newer numbers from the watch.
                .Where(happening => happening.TicketId == ticket.Id && happening.Id > seen && Decisions.Contains(happening.Kind))
                .Where(happening => happening.IdempotencyKey == null || !own.Contains(happening.IdempotencyKey))
                .OrderBy(happening => happening.Id)
                .Select(happening => new Happening(happening.Id, happening.At, happening.Kind, happening.Who, happening.Note))
                .ToListAsync(cancel);

    /// <summary>The time zone in which people write of the ticket: its access's, else the fleet's.</summary>
    public static async Task<TimeZoneInfo> ZoneAsync(Desk desk, FleetOptions options, CancellationToken cancel) =>
        desk.Ticket.AccessId is { } access
            ? (await desk.Db.Accesses.AsNoTracking().FirstAsync(row => row.Id == access, cancel)).Zone
            : options.Zone;

    public static TicketEvent Event(Desk desk, TicketForm form, TicketEventKind kind, string? note = null) =>
        Event(desk, form, desk.Ticket, form.Key, kind, note);

    /// <summary>An event of another ticket that the same form is about, with a key of its own.</summary>
    public static TicketEvent Event(Desk desk, TicketForm form, Ticket ticket, string key, TicketEventKind kind, string? note) => new()
    {
        TicketId = ticket.Id,
        At = desk.Now,
        Kind = kind,
        Who = form.Viewer.Name,
        Note = string.IsNullOrWhiteSpace(note) ? null : note,
        IdempotencyKey = key,
    };
}
