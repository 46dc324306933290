using StationFleet.Domain.Power;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>
/// Shows one station's recorded reports to the watch, in the order in which they were received and with a clock of its own: the
/// same engine and the same ledger as live. What people do in between comes from a list, or from an answer to each ticket.
/// </summary>
public sealed class StationTrial
{
    // People's doings reach the engine's setup at the end of such a stretch, as they do live at the next run.
    private static readonly TimeSpan Stretch = TimeSpan.FromHours(1);

    private readonly TrialSetup _setup;
    private readonly TimeSpan _gridEvery;
    private readonly Func<PastTicket, IEnumerable<TrialEvent>> _answer;
    private readonly WhatPeopleDid? _people;
    private readonly TicketBook _book;
    private readonly WatchHistory _history;
    private readonly PriorityQueue<TrialEvent, (DateTimeOffset, int)> _planned = new();
    private readonly List<FactsCheckpoint> _checkpoints = [];
    private readonly List<PumpOutSeen> _pumpOuts = [];
    private readonly List<Problem> _noticed = [];
    private IReadOnlyList<Problem> _problems = [];
    private WatchEngine _engine;
    private DateTimeOffset _now;
    private int _nextChange;
    private int _events;
    private bool _hasNewSetup;

    /// <summary>Begins a trial.</summary>
    /// <param name="setup">The station.</param>
    /// <param name="from">When the watch over it begins; reports from before are known then, but nothing is judged by hindsight.</param>
    /// <param name="gridEvery">Distance of the fixed instants of judging.</param>
    /// <param name="answer">What people will do about a ticket that was raised or reopened; null: nothing but what is planned.</param>
    /// <param name="people">What people did then, for another look at a real past; null: nobody closes what is not planned to be closed.</param>
    public StationTrial(
        TrialSetup setup,
        DateTimeOffset from,
        TimeSpan gridEvery,
        Func<PastTicket, IEnumerable<TrialEvent>>? answer = null,
        WhatPeopleDid? people = null)
    {
        ArgumentNullException.ThrowIfNull(setup);
        (_setup, _gridEvery, _now) = (setup, gridEvery, from);
        _answer = answer ?? (_ => []);
        WatchState start = WatchState.StartingAt(from);
        _book = new TicketBook(setup.At(from).Code);
        _history = WatchHistory.After(start);
        _engine = new WatchEngine(setup.At(from), start, gridEvery);
        _nextChange = setup.Changes.TakeWhile(change => change <= from).Count();
        _people = people;
        foreach (TrialEvent doing in people?.Events ?? [])
        {
            Plan(doing);
        }
    }

    /// <summary>The tickets so far, by the time of raising.</summary>
    public IReadOnlyList<PastTicket> Tickets => _book.Tickets;

    /// <summary>The problems that are on.</summary>
    public IReadOnlyList<Problem> Problems => _problems;

    /// <summary>
    /// Problems that were worth knowing and raised no ticket at first, each as it was when it was first seen at a full hour.
    /// </summary>
    public IReadOnlyList<Problem> Noticed => _noticed;

    /// <summary>The engine's state.</summary>
    public WatchState State => _engine.State;

    /// <summary>How the battery's charge may go on, seen from the instant that the trial has reached; null when that cannot be said.</summary>
    public ChargeOutlook? OutlookCharge() => _engine.OutlookCharge(_now);

    /// <summary>The engine's checkpoints, by day.</summary>
    public IReadOnlyList<FactsCheckpoint> Checkpoints => _checkpoints;

    /// <summary>The pump-outs that the tank's sensor showed.</summary>
    public IReadOnlyList<PumpOutSeen> PumpOuts => _pumpOuts;

    /// <summary>When the tank will be full, by what is known at the instant that the trial has reached; null when that cannot be said.</summary>
    public TankForecast? ForecastTank() => _engine.ForecastTank(_now);

    /// <summary>Events that found no open ticket to take or close.</summary>
    public int EventsWithoutTicket { get; private set; }

    /// <summary>Lets people do something later.</summary>
    /// <param name="happening">The event; not before the instant that the trial has reached.</param>
    public void Plan(TrialEvent happening)
    {
        ArgumentNullException.ThrowIfNull(happening);
        _planned.Enqueue(happening, (happening.At, _events++));
    }

    /// <summary>Goes on to an instant.</summary>
    /// <param name="reports">The reports that are received since the last run, in that order; none later than the instant.</param>
    /// <param name="until">The instant.</param>
    public void Run(IReadOnlyList<WatchReport> reports, DateTimeOffset until)
    {
        ArgumentNullException.ThrowIfNull(reports);
        for (int taken = 0; _now < until;)
        {
            DateTimeOffset to = EndOfStretch(until);
            int end = taken;
            while (end < reports.Count && reports[end].Received <= to)
            {
                end++;
            }

            Judge([.. reports.Skip(taken).Take(end - taken)], to);
            (_now, taken) = (to, end);
        }
    }

    private void Judge(IReadOnlyList<WatchReport> reports, DateTimeOffset to)
    {
        WatchResult result = _engine.Run(reports, to, _history);
        Keep(result);
        foreach (WatchStep step in result.Steps)
        {
            DoPlanned(step.At);
            foreach (int number in _book.Take(step))
            {
                foreach (TrialEvent answer in _answer(_book.Tickets[number - 1]))
                {
                    Plan(answer);
                }
            }
        }

        DoPlanned(to);
        foreach (TrialEvent closing in _people?.Closings(_book.Tickets, to) ?? [])
        {
            Plan(closing);
        }

        for (; _nextChange < _setup.Changes.Count && _setup.Changes[_nextChange] <= to; _nextChange++)
        {
            _hasNewSetup = true;
        }

        if (_hasNewSetup)
        {
            _engine = new WatchEngine(_setup.At(to), _engine.State, _gridEvery);
            _hasNewSetup = false;
        }
    }

    private DateTimeOffset EndOfStretch(DateTimeOffset until)
    {
        DateTimeOffset end = new(_now.UtcTicks - (_now.UtcTicks % Stretch.Ticks) + Stretch.Ticks, TimeSpan.Zero);
        end = end < until ? end : until;
        if (_nextChange < _setup.Changes.Count && _setup.Changes[_nextChange] < end)
        {
            end = _setup.Changes[_nextChange];
        }

        return _planned.TryPeek(out TrialEvent? next, out _) && next.At > _now && next.At < end ? next.At : end;
    }

    private void DoPlanned(DateTimeOffset until)
    {
        while (_planned.TryPeek(out TrialEvent? happening, out _) && happening.At <= until)
        {
            _planned.Dequeue();
            bool fits = happening switch
            {
                TrialEvent.TicketTaken taken => _book.TakeTicket(taken.Rule, taken.Part, taken.At),
                TrialEvent.TicketClosed closed => _book.Close(closed),
                _ => true,
            };
            EventsWithoutTicket += fits ? 0 : 1;
            _hasNewSetup |= fits && _setup.Take(happening);
        }
    }

    private void Keep(WatchResult result)
    {
        if (result.Problems is { } problems)
        {
            _noticed.AddRange(problems.Where(problem => problem.Urgency == Urgency.DueSoon && !_problems.Any(known => IsSame(known, problem))));
            _problems = problems;
        }

        if (result.FoldedAgainFrom is { } from)
        {
            _checkpoints.RemoveAll(checkpoint => checkpoint.AsOf >= from);
        }

        if (result.PumpOutsFrom is { } pumpOutsFrom)
        {
            _pumpOuts.RemoveAll(seen => seen.At >= pumpOutsFrom);
        }

        _checkpoints.AddRange(result.Checkpoints);
        _pumpOuts.AddRange(result.PumpOuts);
    }

    private static bool IsSame(Problem one, Problem other) => (one.Rule, one.Part, one.Since) == (other.Rule, other.Part, other.Since);
}
