using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Watch;

/// <summary>Carries out what the ticket ledger decides.</summary>
internal sealed class TicketWriter
{
    private readonly FleetDbContext _db;
    private readonly WatchFindings _findings;
    private readonly Dictionary<int, Ticket> _tickets;
    private readonly TicketLedger _ledger;

    private TicketWriter(FleetDbContext db, WatchFindings findings, List<Ticket> tickets)
    {
        (_db, _findings) = (db, findings);
        _tickets = tickets.ToDictionary(ticket => ticket.Id.Value);
        _ledger = new TicketLedger(tickets.Select(AsLedgerTicket));
    }

    public static async Task<TicketWriter> LoadAsync(FleetDbContext db, WatchFindings findings, CancellationToken cancel)
    {
        // A ticket whose work was done before every present problem began has nothing to say any more.
        DateTimeOffset? oldest = findings.Result.Steps.SelectMany(step => step.Problems).Min(problem => (DateTimeOffset?)problem.Since);
        List<Ticket> tickets = await db.Tickets
            .Where(ticket => ticket.StationId == findings.Station && (ticket.State != TicketState.Closed || ticket.Closed >= oldest))
            .ToListAsync(cancel);
        return new TicketWriter(db, findings, tickets);
    }

    /// <summary>Takes the run's steps in order.</summary>
    /// <returns>How many tickets were raised or reopened in this run and are still open at its end.</returns>
    public async Task<int> ApplyAsync(CancellationToken cancel)
    {
        List<Ticket> raised = [];
        foreach (WatchStep step in _findings.Result.Steps)
        {
            foreach (TicketCommand command in _ledger.Decide(step))
            {
                if (await ApplyAsync(command, cancel) is { } ticket)
                {
                    raised.Add(ticket);
                }
            }
        }

        return raised.Count(ticket => ticket.State != TicketState.Closed);
    }

    private static LedgerTicket AsLedgerTicket(Ticket ticket)
    {
        DateTimeOffset? done = ticket.Closed is null ? null : Ticket.DoneBetween(ticket.Raised, ticket.DoneAt, ticket.Closed);
        return new LedgerTicket(
            ticket.Id.Value, ticket.Rule, ticket.Part, ticket.State, ticket.Raised, WatchJson.Read<Evidence>(ticket.Evidence), ticket.ProblemCleared, done, ticket.Outcome);
    }

    /// <returns>The ticket that was raised or reopened; null for anything else.</returns>
    private async Task<Ticket?> ApplyAsync(TicketCommand command, CancellationToken cancel)
    {
        switch (command)
        {
            case TicketCommand.Raise raise:
                Ticket raised = await AddAsync(raise, cancel);
                Log(raised, TicketEventKind.Raised, raise.At);
                return raised;

            case TicketCommand.UpdateEvidence update:
                _tickets[update.Ref].Evidence = WatchJson.Write(update.Evidence);
                return null;

            case TicketCommand.ProblemCleared cleared:
                _tickets[cleared.Ref].ProblemCleared = cleared.At;
                Log(_tickets[cleared.Ref], TicketEventKind.ProblemCleared, cleared.At);
                return null;

            case TicketCommand.ProblemReturned returned:
                _tickets[returned.Ref].ProblemCleared = null;
                _tickets[returned.Ref].Evidence = WatchJson.Write(returned.Evidence);
                Log(_tickets[returned.Ref], TicketEventKind.ProblemReturned, returned.At);
                return null;

            case TicketCommand.CloseByItself closing:
                CloseByItself(_tickets[closing.Ref], closing.At);
                Log(_tickets[closing.Ref], TicketEventKind.Closed, closing.At);

                // The one-open-ticket index must see the closing before a new ticket for the same problem.
                await _db.SaveChangesAsync(cancel);
                return null;

            case TicketCommand.Reopen reopen:
                Reopen(_tickets[reopen.Ref], reopen.Problem.Evidence);
                Log(_tickets[reopen.Ref], TicketEventKind.Reopened, reopen.At);
                return _tickets[reopen.Ref];

            default:
                throw new UnreachableException();
        }
    }

    private static void CloseByItself(Ticket ticket, DateTimeOffset at)
    {
        (ticket.State, ticket.Closed, ticket.ProblemCleared) = (TicketState.Closed, at, at);
        ticket.Outcome = TicketOutcome.ClearedByItself;
        ticket.Version++;
    }

    private static void Reopen(Ticket ticket, Evidence evidence)
    {
        (ticket.State, ticket.Closed, ticket.DoneAt, ticket.ProblemCleared) = (TicketState.New, null, null, null);
        (ticket.ClosedById, ticket.Outcome, ticket.TakenById, ticket.TakenAt, ticket.SnoozedUntil) = (null, null, null, null, null);
        ticket.Evidence = WatchJson.Write(evidence);
        ticket.TimesReopened++;
        ticket.Version++;
    }

    private async Task<Ticket> AddAsync(TicketCommand.Raise raise, CancellationToken cancel)
    {
        AccessId[] access = await _db.Placements
            .Where(p => p.StationId == _findings.Station && p.From <= raise.At && (p.To == null || p.To > raise.At))
            .OrderByDescending(p => p.From).Select(p => p.AccessId).Take(1).ToArrayAsync(cancel);
        Ticket ticket = new()
        {
            Number = (await _db.Tickets.MaxAsync(t => (int?)t.Number, cancel) ?? 0) + 1,
            StationId = _findings.Station,
            AccessId = access.Length > 0 ? access[0] : null,
            Rule = raise.Problem.Rule,
            Part = raise.Problem.Part,
            State = TicketState.New,
            Raised = raise.At,
            Evidence = WatchJson.Write(raise.Problem.Evidence),
        };
        _db.Add(ticket);
        await _db.SaveChangesAsync(cancel);
        _tickets.Add(raise.Ref, ticket);
        return ticket;
    }

    private void Log(Ticket ticket, TicketEventKind kind, DateTimeOffset at) =>
        _db.Add(new TicketEvent { TicketId = ticket.Id, At = at, Kind = kind });
}
