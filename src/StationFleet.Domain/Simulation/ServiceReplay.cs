using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Simulation;

/// <summary>
/// Shows one station's simulated reports to the watch in the order of knowing, keeps the ticket ledger, and lets the simulated
/// technician take and close tickets in between: the past that a demo begins with.
/// </summary>
public sealed class ServiceReplay
{
    private readonly FleetFile _fleet;
    private readonly string _code;
    private readonly SimulatedTechnician _technician;
    private readonly TimeSpan _gridEvery;
    private readonly TicketLedger _ledger;
    private readonly Dictionary<int, PastTicket> _tickets = [];
    private readonly PriorityQueue<(int Ref, bool Closes), DateTimeOffset> _doings = new();
    private readonly Dictionary<int, SimulatedTechnician.Answer> _answers = [];
    private readonly List<UtcInterval> _visits = [];
    private readonly List<TicketFinding> _findings = [];
    private IReadOnlyList<SimulatedPumpOut> _pumpOuts = [];
    private StationSetup _setup;

    private ServiceReplay(FleetFile fleet, StationSetup setup, TimeSpan gridEvery)
    {
        (_fleet, _code, _setup, _gridEvery) = (fleet, setup.Code, setup, gridEvery);
        _technician = new SimulatedTechnician(fleet, _code);
        _ledger = new TicketLedger([]);
    }

    /// <summary>Replays a stretch of time.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="setup">The station's setup.</param>
    /// <param name="options">The options that its reports were simulated with.</param>
    /// <param name="first">The first local day; some days before those that matter, so that the facts are known by then.</param>
    /// <param name="until">The end.</param>
    /// <param name="gridEvery">Distance of the watch's fixed instants.</param>
    /// <param name="onReport">Called with each report that arrives by the end, in order; null when nobody asks.</param>
    public static PastService Run(
        FleetFile fleet,
        StationSetup setup,
        SimulationOptions options,
        DateOnly first,
        DateTimeOffset until,
        TimeSpan gridEvery,
        Action<SimulatedReport>? onReport = null)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(setup);
        return new ServiceReplay(fleet, setup, gridEvery).Run(options, first, until, onReport);
    }

    private PastService Run(SimulationOptions options, DateOnly first, DateTimeOffset until, Action<SimulatedReport>? onReport)
    {
        DateOnly last = LocalCalendar.DateOf(until, _fleet.Zone);
        StationSimulator simulator = new(_fleet, _code, options);
        List<SimulatedPumpOut> pumpOuts = [];
        List<WatchReport> reports = [];

        // Pump-outs of the days after the end are not done yet, and must not be known.
        foreach (SimulatedReport report in simulator.Run(first, last, day => pumpOuts.AddRange(day.PumpOuts.Where(p => p.At <= until))))
        {
            if (report.Received <= until)
            {
                onReport?.Invoke(report);
                reports.Add(new WatchReport(report.Received, report.Measurements));
            }
        }

        _pumpOuts = pumpOuts;
        WatchState start = WatchState.StartingAt(LocalCalendar.StartOf(first, _fleet.Zone));
        WatchEngine engine = new(_setup, start, _gridEvery);
        WatchHistory history = WatchHistory.After(start);
        SortedDictionary<DateOnly, FactsCheckpoint> checkpoints = [];
        List<PumpOutSeen> seen = [];
        IReadOnlyList<Problem> problems = [];
        int taken = 0;
        for (DateOnly day = first; day <= last; day = day.AddDays(1))
        {
            DateTimeOffset end = LocalCalendar.StartOf(day.AddDays(1), _fleet.Zone);
            end = end < until ? end : until;
            List<WatchReport> arrived = [.. reports.Skip(taken).TakeWhile(report => report.Received <= end)];
            taken += arrived.Count;
            WatchResult result = engine.Run(arrived, end, history);
            problems = result.Problems ?? problems;
            Keep(result, checkpoints, seen);
            engine = AfterWork(result, end, engine);
        }

        IReadOnlyList<PastVisit> others = [.. OtherVisits(start.EvaluatedTo, until)];
        _visits.AddRange(others.Select(visit => ServiceLog.VisitEndingAt(visit.At, visit.Minutes)));
        WatchState state = engine.State;
        state.Service = ServiceMark.Of(new ServiceLog(_visits, _findings), since: null);
        return new PastService(
            [.. _tickets.Values.OrderBy(ticket => ticket.Raised)],
            state,
            [.. checkpoints.Values],
            problems,
            seen,
            others);
    }

    private static void Keep(WatchResult result, SortedDictionary<DateOnly, FactsCheckpoint> checkpoints, List<PumpOutSeen> seen)
    {
        if (result.FoldedAgainFrom is { } from)
        {
            foreach (DateOnly day in checkpoints.Where(kept => kept.Value.AsOf >= from).Select(kept => kept.Key).ToList())
            {
                checkpoints.Remove(day);
            }
        }

        foreach (FactsCheckpoint checkpoint in result.Checkpoints)
        {
            checkpoints[checkpoint.Day] = checkpoint;
        }

        seen.RemoveAll(pumpOut => pumpOut.At >= result.PumpOutsFrom);
        seen.AddRange(result.PumpOuts);
    }

    // What the technician did in a day is known to the watch from its end on.
    private WatchEngine AfterWork(WatchResult result, DateTimeOffset end, WatchEngine engine)
    {
        int known = _visits.Count;
        foreach (WatchStep step in result.Steps)
        {
            DoWork(step.At);
            foreach (TicketCommand command in _ledger.Decide(step))
            {
                Apply(command);
            }
        }

        DoWork(end);
        if (_visits.Count == known)
        {
            return engine;
        }

        _setup = _setup with { Service = new ServiceLog([.. _visits], [.. _findings]) };
        return new WatchEngine(_setup, engine.State, _gridEvery);
    }

    private IEnumerable<PastVisit> OtherVisits(DateTimeOffset begin, DateTimeOffset until) =>
        from visit in _fleet.Simulation?.Visits ?? []
        where visit.Station == _code && begin <= visit.At && visit.At <= until
            && !_tickets.Values.SelectMany(ticket => ticket.Visits).Any(made => (made.At - visit.At).Duration() < TimeSpan.FromMinutes(20))
        let pumpOut = visit.PumpOut ? _pumpOuts.FirstOrDefault(p => (p.At - visit.At).Duration() < TimeSpan.FromMinutes(6)) : null
        select new PastVisit(visit.At, 25, visit.Note ?? "Looked after the station.", pumpOut?.Litres);

    private void DoWork(DateTimeOffset until)
    {
        while (_doings.TryPeek(out (int Ref, bool Closes) doing, out DateTimeOffset at) && at <= until)
        {
            _doings.Dequeue();
            PastTicket ticket = _tickets[doing.Ref];
            if (ticket.State == TicketState.Closed)
            {
                continue;
            }

            _tickets[doing.Ref] = doing.Closes
                ? Close(doing.Ref, ticket, at)
                : Happened(ticket with { Taken = at }, at, TicketEventKind.Taken, byTechnician: true);
        }
    }

    private PastTicket Close(int name, PastTicket ticket, DateTimeOffset at)
    {
        SimulatedTechnician.Answer answer = _answers[name];
        _ledger.Close(name, at, answer.Outcome);
        _visits.Add(ServiceLog.VisitEndingAt(answer.Visit!.At, answer.Visit.Minutes));
        if (answer.Outcome is TicketOutcome.Fixed or TicketOutcome.NothingWrong)
        {
            _findings.Add(new TicketFinding(ticket.Rule, ticket.Part, at, answer.Outcome == TicketOutcome.NothingWrong));
        }

        PastTicket closed = ticket with { Closed = at, Outcome = answer.Outcome, Visits = [.. ticket.Visits, answer.Visit] };
        return Happened(closed, at, TicketEventKind.Closed, byTechnician: true, answer.Visit.Note);
    }

    private void Apply(TicketCommand command)
    {
        if (command is TicketCommand.Raise raise)
        {
            _tickets[raise.Ref] = Happened(
                new PastTicket
                {
                    Station = _code,
                    Rule = raise.Problem.Rule,
                    Part = raise.Problem.Part,
                    Raised = raise.At,
                    Evidence = raise.Problem.Evidence,
                },
                raise.At,
                TicketEventKind.Raised);
            Plan(raise.Ref, raise.Problem, raise.At);
            return;
        }

        PastTicket ticket = _tickets[command.Ref];
        _tickets[command.Ref] = command switch
        {
            TicketCommand.UpdateEvidence update => ticket with { Evidence = Telling(ticket.Evidence, update.Evidence) },
            TicketCommand.ProblemCleared => Happened(ticket with { ProblemCleared = command.At }, command.At, TicketEventKind.ProblemCleared),
            TicketCommand.ProblemReturned returned => Happened(
                ticket with { ProblemCleared = null, Evidence = returned.Evidence }, command.At, TicketEventKind.ProblemReturned),
            TicketCommand.CloseByItself => Happened(
                ticket with { ProblemCleared = command.At, Closed = command.At, Outcome = TicketOutcome.ClearedByItself },
                command.At,
                TicketEventKind.Closed),
            TicketCommand.Reopen reopen => Reopened(ticket, reopen),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    // The first reading after a pump-out does not tell why somebody had to come.
    private static Evidence Telling(Evidence known, Evidence newer) =>
        known is TankFillingEvidence before && newer is TankFillingEvidence after && after.FillShare < before.FillShare ? known : newer;

    private PastTicket Reopened(PastTicket ticket, TicketCommand.Reopen reopen)
    {
        Plan(reopen.Ref, reopen.Problem, reopen.At);
        PastTicket open = ticket with
        {
            Evidence = reopen.Problem.Evidence,
            ProblemCleared = null,
            Taken = null,
            Closed = null,
            Outcome = null,
            TimesReopened = ticket.TimesReopened + 1,
        };
        return Happened(open, reopen.At, TicketEventKind.Reopened);
    }

    private void Plan(int name, Problem problem, DateTimeOffset at)
    {
        SimulatedTechnician.Answer answer = _technician.To(problem.Rule, problem.Part, at, _pumpOuts);
        _answers[name] = answer;
        _doings.Enqueue((name, false), answer.Taken > at ? answer.Taken : at);
        if (answer.Visit is { } visit)
        {
            _doings.Enqueue((name, true), visit.At);
        }
    }

    private static PastTicket Happened(
        PastTicket ticket, DateTimeOffset at, TicketEventKind kind, bool byTechnician = false, string? note = null) =>
        ticket with { Events = [.. ticket.Events, new PastTicketEvent(at, kind, byTechnician, note)] };
}
