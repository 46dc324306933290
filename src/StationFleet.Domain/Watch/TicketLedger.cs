using StationFleet.Domain.Service;

namespace StationFleet.Domain.Watch;

/// <summary>Decides what problems mean for one station's tickets.</summary>
/// <remarks>
/// One open ticket for a rule and part. After closing, the same problem raises again only once it has cleared, as a new ticket;
/// or, when it never cleared, a day after the work, as the same ticket reopened.
/// </remarks>
public sealed class TicketLedger
{
    /// <summary>How long after the work a problem may stay on before its ticket opens again.</summary>
    public static readonly TimeSpan ReopenAfter = TimeSpan.FromHours(24);

    private readonly Dictionary<(Rule, string), LedgerTicket> _tickets = [];
    private int _raised;

    /// <summary>Starts from the tickets that there are.</summary>
    /// <param name="tickets">The open tickets, and for each rule and part the last closed one; more do no harm.</param>
    public TicketLedger(IEnumerable<LedgerTicket> tickets)
    {
        ArgumentNullException.ThrowIfNull(tickets);
        foreach (LedgerTicket ticket in tickets.OrderByDescending(IsClosed).ThenBy(ticket => ticket.Done))
        {
            _tickets[(ticket.Rule, ticket.Part)] = ticket;
        }
    }

    /// <summary>The ticket of a rule and part: the open one, else the last closed one; null when there is none.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="part">The part.</param>
    public LedgerTicket? Find(Rule rule, string part) => _tickets.GetValueOrDefault((rule, part));

    /// <summary>A person closes a ticket (in a trial, or a test).</summary>
    /// <param name="ticket">The ticket's name.</param>
    /// <param name="done">When the work was done.</param>
    /// <param name="outcome">How it ended.</param>
    public void Close(int ticket, DateTimeOffset done, TicketOutcome outcome)
    {
        LedgerTicket closing = _tickets.Values.Single(t => t.Ref == ticket);
        Keep(closing with { State = TicketState.Closed, Done = done, Outcome = outcome });
    }

    /// <summary>Decides one instant, and takes its own decisions as done.</summary>
    /// <param name="step">What the engine found.</param>
    public IReadOnlyList<TicketCommand> Decide(WatchStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        List<TicketCommand> commands = [];
        foreach (ClearedProblem cleared in step.Cleared)
        {
            if (Find(cleared.Rule, cleared.Part) is { } ticket && !IsClosed(ticket) && ticket.ProblemCleared is null)
            {
                commands.Add(Clear(ticket, step.At));
            }
        }

        foreach (Problem problem in step.Problems.Where(problem => problem.Urgency == Urgency.NeedsVisit))
        {
            if (Decide(problem, Find(problem.Rule, problem.Part), step.At) is { } command)
            {
                commands.Add(command);
            }
        }

        return commands;
    }

    private static bool IsClosed(LedgerTicket ticket) => ticket.State == TicketState.Closed;

    private TicketCommand Clear(LedgerTicket ticket, DateTimeOffset at)
    {
        // Whoever has taken a ticket may be on the road: it is not closed under their hands. A planned sample that is recorded, or
        // not wanted any more, leaves nothing to look at.
        bool isOver = ticket.Rule == Rule.SampleDue || (ticket.Rule == Rule.NotReporting && at - ticket.Raised <= NotReporting.Grace);
        if (isOver && ticket.State == TicketState.New)
        {
            Keep(ticket with { State = TicketState.Closed, Done = at, Outcome = TicketOutcome.ClearedByItself, ProblemCleared = at });
            return new TicketCommand.CloseByItself(at, ticket.Ref);
        }

        Keep(ticket with { ProblemCleared = at });
        return new TicketCommand.ProblemCleared(at, ticket.Ref);
    }

    private TicketCommand? Decide(Problem problem, LedgerTicket? ticket, DateTimeOffset at)
    {
        switch (ticket)
        {
            case null or { State: TicketState.Closed } when ticket is null || problem.Since > ticket.Done:
                int name = --_raised;
                Keep(new LedgerTicket(name, problem.Rule, problem.Part, TicketState.New, at, problem.Evidence));
                return new TicketCommand.Raise(at, name, problem);

            case { State: TicketState.Closed }:
                if (at - ticket.Done < ReopenAfter)
                {
                    return null;
                }

                Keep(ticket with { State = TicketState.New, Evidence = problem.Evidence, ProblemCleared = null, Done = null, Outcome = null });
                return new TicketCommand.Reopen(at, ticket.Ref, problem);

            case { ProblemCleared: not null }:
                Keep(ticket with { ProblemCleared = null, Evidence = problem.Evidence });
                return new TicketCommand.ProblemReturned(at, ticket.Ref, problem.Evidence);

            case not null when ticket.Evidence != problem.Evidence:
                Keep(ticket with { Evidence = problem.Evidence });
                return new TicketCommand.UpdateEvidence(at, ticket.Ref, problem.Evidence);

            default:
                return null;
        }
    }

    private void Keep(LedgerTicket ticket) => _tickets[(ticket.Rule, ticket.Part)] = ticket;
}
