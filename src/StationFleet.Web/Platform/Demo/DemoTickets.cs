using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Service;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Writes what people did in the invented past: tickets with their history, visits, pump-outs.</summary>
internal static class DemoTickets
{
    /// <summary>Who did it.</summary>
    public static async Task<FleetUser> TechnicianAsync(FleetDbContext db, CancellationToken cancel) => await db.Users
        .Where(user => db.UserRoles.Any(has =>
            has.UserId == user.Id && db.Roles.Any(role => role.Id == has.RoleId && role.Name == FleetRoles.Technician)))
        .OrderBy(user => user.Email).FirstAsync(cancel);

    /// <summary>Adds tickets, which get the given numbers in the order given.</summary>
    public static async Task<IReadOnlyList<Ticket>> AddAsync(
        FleetDbContext db,
        IReadOnlyDictionary<string, StationId> stations,
        IReadOnlyList<PastTicket> pastTickets,
        int firstNumber,
        CancellationToken cancel)
    {
        FleetUser technician = await TechnicianAsync(db, cancel);
        List<Placement> placements = await db.Placements.AsNoTracking().ToListAsync(cancel);
        List<(PastTicket Past, Ticket Ticket)> added = [];
        foreach (PastTicket past in pastTickets)
        {
            StationId station = stations[past.Station];
            Placement? placement = placements.Find(p => p.StationId == station && p.From <= past.Raised && !(p.To <= past.Raised));
            added.Add((past, TicketOf(past, station, placement?.AccessId, technician.Id, firstNumber + added.Count)));
        }

        db.AddRange(added.Select(pair => pair.Ticket));
        await db.SaveChangesAsync(cancel);
        foreach ((PastTicket past, Ticket ticket) in added)
        {
            db.AddRange(past.Events.Select(happening => new TicketEvent
            {
                TicketId = ticket.Id,
                At = happening.At,
                Kind = happening.Kind,
                Who = happening.ByTechnician ? technician.DisplayName : null,
                Note = happening is { Kind: TicketEventKind.Closed, ByTechnician: true } && past.Outcome is { } outcome
                    ? $"{TicketWords.Of(outcome)}\n{happening.Note}".Trim()
                    : happening.Note,
            }));
            await AddVisitsAsync(db, ticket.StationId, ticket.Id, past.Visits, technician.DisplayName, cancel);
        }

        return [.. added.Select(pair => pair.Ticket)];
    }

    /// <summary>Adds visits, and the pump-outs made on them.</summary>
    public static async Task AddVisitsAsync(
        FleetDbContext db, StationId station, TicketId? ticket, IReadOnlyList<PastVisit> visits, string who, CancellationToken cancel)
    {
        foreach (PastVisit past in visits)
        {
            ServiceVisit visit = new()
            {
                StationId = station, TicketId = ticket, Who = who, At = past.At, Minutes = past.Minutes, Note = past.Note,

                // The district's crew is paid from the award, on Fridays as the district's match.
                Hours = past.At.DayOfWeek == DayOfWeek.Friday ? HoursKind.Match : HoursKind.Paid,
            };
            db.Add(visit);
            if (past.PumpedOutLitres is { } litres)
            {
                // The pump-out refers to the visit by its number, which the database gives.
                await db.SaveChangesAsync(cancel);
                db.Add(new PumpOut
                {
                    StationId = station, At = past.At, Litres = Math.Round(litres, 1), Source = PumpOutSource.Visit, VisitId = visit.Id,
                    DipLitres = Math.Round(litres),
                });
            }
        }
    }

    private static Ticket TicketOf(PastTicket past, StationId station, AccessId? access, string technician, int number) => new()
    {
        Number = number,
        StationId = station,
        AccessId = access,
        Rule = past.Rule,
        Part = past.Part,
        State = past.State,
        Raised = past.Raised,
        Evidence = WatchJson.Write(past.Evidence),
        ProblemCleared = past.ProblemCleared,
        TakenAt = past.Taken,
        TakenById = past.Taken is null ? null : technician,
        Closed = past.Closed,
        DoneAt = past.Visits.Count > 0 ? past.Closed : null,
        ClosedById = past.Closed is null || past.Outcome == TicketOutcome.ClearedByItself ? null : technician,
        Outcome = past.Outcome,
        TimesReopened = past.TimesReopened,
    };
}
