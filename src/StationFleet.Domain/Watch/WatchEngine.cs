using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Telemetry;
using static StationFleet.Domain.Time.Instants;

namespace StationFleet.Domain.Watch;

/// <summary>
/// Watches one station: takes its reports in the order in which they became known and judges at fixed instants and whenever a
/// report arrives. The live watch and the trial on recorded measurements run this same code.
/// </summary>
/// <remarks>
/// A measurement older than what the facts hold rolls the facts back and folds the days since anew; what was alarmed meanwhile
/// stays alarmed. After a stop the missed instants are judged one by one, so a stop changes nothing but the time of telling.
/// </remarks>
public sealed class WatchEngine
{
    /// <summary>How far facts are folded anew when somebody changes the setup: a closing entered late, a tank corrected.</summary>
    public static readonly TimeSpan FoldedAgainOnChange = TimeSpan.FromDays(35);

    private readonly FactsContext _context;
    private readonly ProblemBoard _board;
    private readonly long _gridTicks;
    private readonly DateTimeOffset _watchedFrom;
    private readonly List<FactsCheckpoint> _checkpoints = [];
    private readonly List<PumpOutSeen> _pumpOuts = [];
    private readonly string _setupKey;
    private readonly string _foldedWith;
    private readonly IReadOnlyList<ServiceMark> _service;
    private readonly IReadOnlyList<ServiceMark> _serviceSeen;
    private DateTimeOffset? _changedFrom;
    private StationFacts _facts;
    private ReportRhythm _rhythm;
    private DateTimeOffset? _lastHeard;
    private DateTimeOffset _evaluatedTo;
    private DateTimeOffset? _dirtyFrom;
    private DateTimeOffset? _foldedAgainFrom;
    private DateTimeOffset? _pumpOutsFrom;

    /// <summary>Goes on from a state.</summary>
    /// <param name="setup">The station's setup now.</param>
    /// <param name="state">The state; it is not changed.</param>
    /// <param name="gridEvery">Distance of the fixed instants, which are whole multiples of it since 1970; positive.</param>
    public WatchEngine(StationSetup setup, WatchState state, TimeSpan gridEvery)
    {
        ArgumentNullException.ThrowIfNull(setup);
        ArgumentNullException.ThrowIfNull(state);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(gridEvery, TimeSpan.Zero);
        _context = new FactsContext(setup, state.WatchedFrom);
        _board = new ProblemBoard(_context, state.Slots, state.Charge, state.Tank);
        _gridTicks = gridEvery.Ticks;
        _facts = state.Facts.Copy();
        _watchedFrom = state.WatchedFrom;
        _rhythm = state.Rhythm;
        _lastHeard = state.LastHeard;
        _evaluatedTo = state.EvaluatedTo;
        _setupKey = SetupKey.Of(setup);
        _foldedWith = state.SetupKey;
        DateTimeOffset? since = _facts.LastAt - FoldedAgainOnChange;
        _serviceSeen = state.Service;
        _service = ServiceMark.Of(setup.Service, since);
        _changedFrom = state.SetupKey.Length > 0 && state.SetupKey != _setupKey ? since : ServiceMark.FirstDifference(_serviceSeen, _service, since);

        // What lies after the newest measurement is taken with the next one.
        _changedFrom = _changedFrom > _facts.LastAt ? null : _changedFrom;
    }

    /// <summary>What to remember for the next run.</summary>
    public WatchState State => new()
    {
        WatchedFrom = _watchedFrom,
        EvaluatedTo = _evaluatedTo,
        LastHeard = _lastHeard,
        Rhythm = _rhythm,
        SetupKey = _changedFrom is null ? _setupKey : _foldedWith,
        Service = _changedFrom is null ? _service : _serviceSeen,
        Facts = _facts.Copy(),
        Charge = _board.Charge,
        Tank = _board.Tank,
        Slots = _board.Slots,
    };

    /// <summary>When the tank will be full, by what is known now; null when that cannot be said.</summary>
    /// <param name="now">The present.</param>
    public TankForecast? ForecastTank(DateTimeOffset now) => TankForecast.Of(_facts, _context, now);

    /// <summary>What is to be expected of the station, by what is known now.</summary>
    /// <param name="known">What was expected when last reckoned; kept while it holds.</param>
    /// <param name="now">The present.</param>
    public StationAhead Ahead(StationAhead? known, DateTimeOffset now)
    {
        double? share = _facts.Tank.Level?.Share;
        if (known is not null && known.Holds(now, share))
        {
            return known;
        }

        TankForecast? tank = ForecastTank(now);
        return new StationAhead(now, share, tank?.Window, tank?.NamesDates == true, _board.Charge);
    }

    /// <summary>How the battery's charge may go on, by what is known now; null when that cannot be said.</summary>
    /// <param name="now">The present.</param>
    public ChargeOutlook? OutlookCharge(DateTimeOffset now) => LowCharge.Outlook(_facts, _context, now);

    /// <summary>From which instant on the next run may need history; null when the reports are in order and the setup is the same.</summary>
    /// <param name="reports">The reports of the next run.</param>
    /// <returns>The last kept checkpoint at or before this instant, and all known measurements since it, are needed.</returns>
    public DateTimeOffset? HistoryNeeded(IReadOnlyList<WatchReport> reports)
    {
        ArgumentNullException.ThrowIfNull(reports);
        (DateTimeOffset? needed, DateTimeOffset? last) = (_changedFrom, _facts.LastAt);
        foreach (WatchReport report in reports)
        {
            DateTimeOffset? newest = last;
            foreach (Measurement measurement in report.Measurements)
            {
                needed = measurement.At <= last && !(needed <= measurement.At) ? measurement.At : needed;
                newest = newest >= measurement.At ? newest : measurement.At;
            }

            last = newest;
        }

        return needed;
    }

    /// <summary>Takes reports in and judges all instants up to now.</summary>
    /// <param name="reports">The reports since the last run, in the order in which they became known.</param>
    /// <param name="until">Now.</param>
    /// <param name="history">What <see cref="HistoryNeeded"/> asked for; it takes the reports in as well.</param>
    public WatchResult Run(IReadOnlyList<WatchReport> reports, DateTimeOffset until, WatchHistory history)
    {
        ArgumentNullException.ThrowIfNull(reports);
        ArgumentNullException.ThrowIfNull(history);
        _checkpoints.Clear();
        _pumpOuts.Clear();
        (_foldedAgainFrom, _pumpOutsFrom) = (null, null);
        List<WatchStep> steps = [];
        int taken = 0;
        bool judged = false;
        while (true)
        {
            DateTimeOffset grid = new(_evaluatedTo.UtcTicks - (_evaluatedTo.UtcTicks % _gridTicks) + _gridTicks, TimeSpan.Zero);
            DateTimeOffset? known = taken < reports.Count ? Later(reports[taken].Received, _evaluatedTo) : null;
            DateTimeOffset now = known <= grid ? known.Value : grid;
            if (now > until)
            {
                break;
            }

            // Reports that became known at one instant are judged together.
            for (; taken < reports.Count && reports[taken].Received <= now; taken++)
            {
                TakeIn(reports[taken], history);
            }

            Judge(now, history, steps);
            judged = true;
        }

        return new WatchResult(taken, steps, judged ? [.. _board.Problems] : null, [.. _checkpoints], [.. _pumpOuts], _foldedAgainFrom, _pumpOutsFrom);
    }

    private void Judge(DateTimeOffset now, WatchHistory history, List<WatchStep> steps)
    {
        if ((_dirtyFrom < _changedFrom ? _dirtyFrom : _changedFrom ?? _dirtyFrom) is { } from)
        {
            FoldAgain(from, history);
        }

        if (_board.Judge(_facts, _rhythm, _lastHeard, now) is { } step)
        {
            steps.Add(step);
        }

        _evaluatedTo = now;
    }

    private void TakeIn(WatchReport report, WatchHistory history)
    {
        // A report whose every record was set aside still is a sign of life; a file that a person brings is none.
        if (report.Source == ReportSource.Station)
        {
            _rhythm = _rhythm.After(report, _lastHeard);
            _lastHeard = _lastHeard >= report.Received ? _lastHeard : report.Received;
        }

        IReadOnlyList<Measurement> fresh = history.Add(report.Measurements);
        if (fresh.Count == 0)
        {
            return;
        }

        if (_dirtyFrom is not null || fresh[0].At <= _facts.LastAt)
        {
            _dirtyFrom = _dirtyFrom <= fresh[0].At ? _dirtyFrom : fresh[0].At;
        }
        else
        {
            Fold(history.Since(fresh[0].At), history);
        }
    }

    private void FoldAgain(DateTimeOffset from, WatchHistory history)
    {
        FactsCheckpoint? checkpoint = history.CheckpointAt(from);
        DateTimeOffset start = checkpoint?.AsOf ?? DateTimeOffset.MinValue;

        // Folding on from a checkpoint makes it anew, with the same content.
        history.ForgetFrom(start);
        _checkpoints.RemoveAll(kept => kept.AsOf >= start);

        // A fall that was under way at the checkpoint belongs to the pump-out that is judged anew.
        DateTimeOffset pumpOutsFrom = checkpoint?.Facts.Tank.Fall?.FirstAt ?? start;
        _pumpOuts.RemoveAll(seen => seen.At >= pumpOutsFrom);
        _pumpOutsFrom = _pumpOutsFrom <= pumpOutsFrom ? _pumpOutsFrom : pumpOutsFrom;
        _foldedAgainFrom = _foldedAgainFrom <= start ? _foldedAgainFrom : start;
        (_dirtyFrom, _changedFrom) = (null, null);
        _facts = checkpoint?.Facts.Copy() ?? new StationFacts();
        Fold(history.Since(checkpoint?.AsOf), history);
    }

    private void Fold(ReadOnlySpan<Measurement> measurements, WatchHistory history)
    {
        while (!measurements.IsEmpty)
        {
            DateTimeOffset at = measurements[0].At;
            int count = 1;
            while (count < measurements.Length && measurements[count].At == at)
            {
                count++;
            }

            (DateOnly day, DateTimeOffset dayStart) = _context.DayOf(at);
            if (_facts.LastAt < dayStart)
            {
                FactsCheckpoint checkpoint = new(day, dayStart, _facts.Copy());
                history.Keep(checkpoint);
                _checkpoints.Add(checkpoint);
            }

            if (_facts.Take(measurements[..count], _context) is { } pumpOut)
            {
                _pumpOuts.Add(pumpOut);
            }

            measurements = measurements[count..];
        }
    }
}
