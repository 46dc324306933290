using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>The tickets of one station in a replayed past: what the ledger decides and what people do, written down.</summary>
internal sealed class TicketBook(string station)
{
    private readonly List<PastTicket> _tickets = [];

    // The ledger calls tickets of its own run by negative names; a ticket's number here is its place in the list, from 1.
    private readonly Dictionary<int, int> _numbers = [];
    private TicketLedger _ledger = new([]);

    public IReadOnlyList<PastTicket> Tickets => _tickets;

    /// <summary>Decides one instant.</summary>
    /// <returns>The tickets that people are told of, by number: raised and reopened ones.</returns>
    public IReadOnlyList<int> Take(WatchStep step)
    {
        List<int> told = [];
        foreach (TicketCommand command in _ledger.Decide(step))
        {
            if (command is TicketCommand.Raise raise)
            {
                _tickets.Add(Happened(Raised(raise), raise.At, TicketEventKind.Raised));
                _numbers[raise.Ref] = _tickets.Count;
                told.Add(_tickets.Count);
                continue;
            }

            int number = NumberOf(command.Ref);
            _tickets[number - 1] = After(_tickets[number - 1], command);
            if (command is TicketCommand.Reopen)
            {
                told.Add(number);
            }
        }

        return told;
    }

    /// <summary>A person takes a ticket.</summary>
    /// <returns>Whether there was one to take.</returns>
    public bool TakeTicket(Rule rule, string part, DateTimeOffset at)
    {
        if (OpenOf(rule, part) is not { } number || _tickets[number - 1].Taken is not null)
        {
            return false;
        }

        _tickets[number - 1] = Happened(_tickets[number - 1] with { Taken = at }, at, TicketEventKind.Taken, byTechnician: true);
        StartAnew(number);
        return true;
    }

    /// <summary>A person closes a ticket.</summary>
    /// <returns>Whether there was one to close.</returns>
    public bool Close(TrialEvent.TicketClosed closing)
    {
        if (OpenOf(closing.Rule, closing.Part) is not { } number)
        {
            return false;
        }

        PastTicket ticket = _tickets[number - 1];
        _ledger.Close(_ledger.Find(closing.Rule, closing.Part)!.Ref, closing.At, closing.Outcome);
        PastTicket closed = ticket with
        {
            Closed = closing.At,
            Outcome = closing.Outcome,
            Visits = closing.Visit is { } visit ? [.. ticket.Visits, visit] : ticket.Visits,
        };
        _tickets[number - 1] = Happened(closed, closing.At, TicketEventKind.Closed, byTechnician: true, closing.Visit?.Note);
        return true;
    }

    private int? OpenOf(Rule rule, string part) =>
        _ledger.Find(rule, part) is { State: not TicketState.Closed } ticket ? NumberOf(ticket.Ref) : null;

    private int NumberOf(int name) => name > 0 ? name : _numbers[name];

    // As the live watch does in each run: the ledger starts from the tickets that there are.
    private void StartAnew(int taken)
    {
        List<LedgerTicket> tickets = [];
        foreach ((Rule rule, string part) in _tickets.Select(ticket => (ticket.Rule, ticket.Part)).Distinct())
        {
            LedgerTicket known = _ledger.Find(rule, part)!;
            int number = NumberOf(known.Ref);
            tickets.Add(known with { Ref = number, State = number == taken ? TicketState.Taken : known.State });
        }

        _ledger = new TicketLedger(tickets);
        _numbers.Clear();
    }

    private PastTicket Raised(TicketCommand.Raise raise) => new()
    {
        Station = station,
        Rule = raise.Problem.Rule,
        Part = raise.Problem.Part,
        Raised = raise.At,
        RaisedWith = raise.Problem.Evidence,
        Evidence = raise.Problem.Evidence,
    };

    private static PastTicket After(PastTicket ticket, TicketCommand command) => command switch
    {
        TicketCommand.UpdateEvidence update => ticket with { Evidence = Telling(ticket.Evidence, update.Evidence) },
        TicketCommand.ProblemCleared => Happened(ticket with { ProblemCleared = command.At }, command.At, TicketEventKind.ProblemCleared),
        TicketCommand.ProblemReturned returned => Happened(
            ticket with { ProblemCleared = null, Evidence = returned.Evidence }, command.At, TicketEventKind.ProblemReturned),
        TicketCommand.CloseByItself => Happened(
            ticket with { ProblemCleared = command.At, Closed = command.At, Outcome = TicketOutcome.ClearedByItself },
            command.At,
            TicketEventKind.Closed),
        TicketCommand.Reopen reopen => Happened(Reopened(ticket, reopen), command.At, TicketEventKind.Reopened),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static PastTicket Reopened(PastTicket ticket, TicketCommand.Reopen reopen) => ticket with
    {
        Evidence = reopen.Problem.Evidence,
        ProblemCleared = null,
        Taken = null,
        Closed = null,
        Outcome = null,
        TimesReopened = ticket.TimesReopened + 1,
    };

    // The first reading after a pump-out does not tell why somebody had to come.
    private static Evidence Telling(Evidence known, Evidence newer) =>
        known is TankFillingEvidence before && newer is TankFillingEvidence after && after.FillShare < before.FillShare ? known : newer;

    private static PastTicket Happened(
        PastTicket ticket, DateTimeOffset at, TicketEventKind kind, bool byTechnician = false, string? note = null) =>
        ticket with { Events = [.. ticket.Events, new PastTicketEvent(at, kind, byTechnician, note)] };
}
