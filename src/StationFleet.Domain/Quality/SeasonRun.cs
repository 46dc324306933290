using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>Simulates one season, tries the rules on it as it goes, and holds what they told against the truth.</summary>
public sealed class SeasonRun
{
    private static readonly TimeSpan Warning = TimeSpan.FromHours(12);
    private static readonly TimeSpan Evening = new(11, 20, 0);
    private static readonly TimeSpan Grid = TimeSpan.FromMinutes(5);

    private readonly QualitySeason _season;
    private readonly FleetFile _fleet;
    private readonly StationSimulator _simulator;
    private readonly SeasonTruth _truth;
    private readonly StationTrial _trial;
    private readonly DateTimeOffset _end;
    private readonly TankTries _tank;
    private readonly ChargeTryBook _charge;

    private SeasonRun(QualitySeason season, SimulatedWorldKind world, QualityPeople people)
    {
        _season = season;
        _fleet = QualityWorld.Of(season, world);
        FleetStation station = _fleet.Stations[0];
        _simulator = new StationSimulator(_fleet, QualityWorld.Code);
        double litres = station.Tanks[0].CapacityLitres;
        _truth = new SeasonTruth(litres, _fleet.Zone, station.Rules ?? RuleSettings.Default);
        _charge = new ChargeTryBook((station.Rules ?? RuleSettings.Default).ChargeRaiseShare);
        _end = LocalCalendar.StartOf(QualityWorld.Last.AddDays(1), _fleet.Zone);
        _tank = new TankTries(_truth, litres, station.Created, _end);
        QualityTechnician technician = new(_simulator, _truth);
        _trial = new StationTrial(
            TrialSetup.Of(_fleet, QualityWorld.Code), station.Created, Grid, people == QualityPeople.Technician ? technician.AnswerTo : null);
        foreach (PlannedVisit visit in _fleet.Simulation!.Visits)
        {
            _trial.Plan(new TrialEvent.Visited(visit.At.AddMinutes(-20), visit.At.AddMinutes(20)));
        }
    }

    /// <summary>Runs a season.</summary>
    /// <param name="season">The season.</param>
    /// <param name="world">How unruly it is.</param>
    /// <param name="people">Who answers tickets.</param>
    /// <param name="onMidnight">Asked at the end of each local day, when the trial stands there: for what else is to be held against the truth.</param>
    public static SeasonOutcome Of(
        QualitySeason season, SimulatedWorldKind world, QualityPeople people, Action<StationTrial, DayTruth>? onMidnight = null)
    {
        SeasonRun run = new(season, world, people);
        run.Go(onMidnight);
        return run.Outcome();
    }

    // Day by day: what people do about today's tickets changes tomorrow.
    private void Go(Action<StationTrial, DayTruth>? onMidnight)
    {
        PriorityQueue<SimulatedReport, (DateTimeOffset, int)> waiting = new();
        int made = 0;
        for (DateOnly date = QualityWorld.First; date <= QualityWorld.Last; date = date.AddDays(1))
        {
            SimulatedDay day = _simulator.Day(date);
            _truth.Add(day.Truth!);
            foreach (SimulatedReport report in day.Reports)
            {
                waiting.Enqueue(report, (report.Received, made++));
            }

            DateTimeOffset midnight = LocalCalendar.StartOf(date.AddDays(1), _fleet.Zone);
            foreach (DateTimeOffset until in new[] { midnight - Evening, midnight })
            {
                _trial.Run(Received(waiting, until), until);
                _tank.Add(until, _trial.State.Facts.Tank.Level?.Share, _trial.PumpOuts, _trial.ForecastTank());
            }

            _charge.Add(midnight, _trial.OutlookCharge(), day.Truth!);
            onMidnight?.Invoke(_trial, day.Truth!);
        }
    }

    private List<WatchReport> Received(PriorityQueue<SimulatedReport, (DateTimeOffset, int)> waiting, DateTimeOffset until)
    {
        List<WatchReport> received = [];
        while (waiting.TryPeek(out SimulatedReport? next, out _) && next.Received <= until)
        {
            waiting.Dequeue();
            received.Add(RecordedIntake.Of(next.Received, next.Measurements, _fleet.Stations[0].Created).Report);
        }

        return received;
    }

    private SeasonOutcome Outcome()
    {
        List<QualityNotice> notices =
        [
            .. from ticket in _trial.Tickets
               from told in ticket.Events
               where told.Kind is TicketEventKind.Raised or TicketEventKind.Reopened
               select Notice(ticket.Rule, ticket.Part, told.At, isTicket: true),
            .. _trial.Noticed.Select(problem => Notice(problem.Rule, problem.Part, problem.Since, isTicket: false)),
        ];
        notices.Sort((one, other) => one.At.CompareTo(other.At));
        List<DateTimeOffset> full = [.. _truth.FullAt()];
        int warned = full.Count(at => _trial.Tickets.Any(ticket => ticket.Rule == Rule.TankFilling && ticket.Raised <= at - Warning
            && !(ticket.Closed < at - TimeSpan.FromDays(1))));
        return new SeasonOutcome(_season, notices, [.. _simulator.Faults.Select((fault, i) => Fate(fault, i, notices))], full.Count, warned)
        {
            Forecasts = _tank.Forecasts(_simulator.Faults),
            PumpOuts = _tank.PumpOuts(_trial.PumpOuts, _simulator.Faults),
            Charge = _charge.Result(_simulator.Faults),
        };
    }

    private QualityNotice Notice(Rule rule, string part, DateTimeOffset at, bool isTicket) => new(
        rule, part, at, isTicket, _simulator.Faults.Any(fault => FaultRules.Explains(fault, rule, part, at)) || _truth.Explains(rule, at));

    private QualityFault Fate(PlannedFault fault, int place, IReadOnlyList<QualityNotice> notices)
    {
        DateTimeOffset to = fault.To ?? _end;
        DateTimeOffset? told = notices.Where(n => (n.IsTicket || n.Rule == Rule.FallingUse) && FaultRules.IsToldBy(fault, n.Rule, n.Part)
            && fault.From <= n.At && n.At <= to).Select(n => (DateTimeOffset?)n.At).FirstOrDefault();
        DateTimeOffset? word = notices.Where(n => FaultRules.IsToldBy(fault, n.Rule, n.Part) && fault.From <= n.At && n.At <= to)
            .Select(n => (DateTimeOffset?)n.At).FirstOrDefault();
        QualityFault fate = told is { } at
            ? new QualityFault(fault, told, (at - fault.From).TotalHours, _truth.BoatsBetween(fault.From, at), IsMendedOtherwise: false)
            : new QualityFault(
                fault, null, double.PositiveInfinity, double.PositiveInfinity, IsMendedOtherwise: fault.To != _fleet.Simulation!.Faults[place].To);
        return fate with { HoursToWord = (word - fault.From)?.TotalHours ?? double.PositiveInfinity };
    }
}
