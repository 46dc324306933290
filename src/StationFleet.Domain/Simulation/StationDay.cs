using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Simulation;

/// <summary>Steps one station through one stay's part of a local day, five minutes at a time.</summary>
internal sealed class StationDay
{
    public const int StepMinutes = 5;

    private const double DrainedLitres = 0.4;
    private static readonly TimeSpan Step = TimeSpan.FromMinutes(StepMinutes);

    private readonly StationPlan _plan;
    private readonly Stay _stay;
    private readonly StationState _state;
    private readonly DateOnly _date;
    private readonly DayWeather _weather;
    private readonly IReadOnlyList<Boat> _boats;
    private readonly List<DateTimeOffset> _pumpOuts;
    private readonly DateTimeOffset _seven;
    private readonly TimeSpan _offset;
    private readonly Dice _chance;
    private int _nextBoat;

    public StationDay(StationPlan plan, Stay stay, StationState state, DateOnly date)
    {
        (_plan, _stay, _state, _date) = (plan, stay, state, date);
        _weather = Weather.Of(plan.Seed, date, plan.World);
        _seven = LocalCalendar.StartOf(date, plan.Zone).AddHours(7);
        _offset = plan.Zone.GetUtcOffset(_seven);
        _boats = Traffic.Of(plan, stay.Access, date, _weather);
        Power = new DayPower(plan, stay, state, _weather);
        _chance = Dice.For(plan.Seed, plan.Station.Code + "/faults", date.DayNumber);
        _pumpOuts = [.. plan.Visits.Where(visit => visit.PumpOut).Select(visit => visit.At)];
        if (stay.To is { } end)
        {
            // Before it is moved or laid up, it is drained.
            _pumpOuts.Add(end - TimeSpan.FromMinutes(30));
        }
    }

    public List<Sample> Samples { get; } = [];

    public List<SimulatedPumpOut> PumpOuts { get; } = [];

    public List<DateTimeOffset> BoatsAt { get; } = [];

    public List<double> BoatLitres { get; } = [];

    public int[] Uses { get; private init; } = [];

    public int[] ServiceUses { get; private init; } = [];

    public double InflowLitres { get; private set; }

    public double OverflowLitres { get; private set; }

    public DateTimeOffset? FullAt { get; private set; }

    public double LeakLitres { get; private set; }

    public DayPower Power { get; }

    public bool IsRainy => _weather.IsRainy;

    /// <summary>Runs the whole day and leaves the state as it is at the day's end.</summary>
    public static StationDay Run(StationPlan plan, Stay stay, StationState state, DateOnly date)
    {
        StationDay day = new(plan, stay, state, date) { Uses = new int[plan.Habits.Count], ServiceUses = new int[plan.Habits.Count] };
        UtcInterval hours = LocalCalendar.Day(date, plan.Zone);
        DateTimeOffset from = hours.Start < stay.From ? stay.From : hours.Start;
        DateTimeOffset to = hours.End < stay.End ? hours.End : stay.End;
        long first = (from.UtcTicks / Step.Ticks) + 1;
        for (DateTimeOffset at = new(first * Step.Ticks, TimeSpan.Zero); at <= to; at += Step)
        {
            day.Advance(at);
        }

        return day;
    }

    private void Advance(DateTimeOffset at)
    {
        DateTimeOffset before = at - Step;
        if (_plan.RestartIn(before, at) is { } restart)
        {
            _state.Restart(restart.From, restart.KeepsUptime);
        }

        if (_plan.On(FaultKind.SiteOutage, at) is { } outage)
        {
            _state.Restart(outage.To ?? at);
            return;
        }

        FleetTank? tank = _plan.TankAt(at);
        (double wattHours, bool moved) = Clean(at, tank?.CapacityLitres ?? 0);
        moved |= CountByItself(at) | TestTools(before, at);
        SendTechnician(before, at, tank);
        Leak(at);
        if (_state.TankLitres > DrainedLitres && _pumpOuts.Exists(pumpOut => before < pumpOut && pumpOut <= at))
        {
            PumpOuts.Add(new SimulatedPumpOut(at, _state.TankLitres - DrainedLitres));
            _state.TankLitres = DrainedLitres;
        }

        (double solar, double load, SunPosition sun) = Power.Step(before + (Step / 2), at, wattHours);
        if (Power.CutOff(at))
        {
            return;
        }

        double sensed = Sensed(at, tank?.CapacityLitres ?? 0);
        Samples.Add(new Sample(
            at, sensed, _state.FrozenLitres is not null, _state.ChargeShare, solar, load, sun.ElevationDeg, AirTempC(at), _state.Started, [.. _state.Counters], moved));
    }

    private double Sensed(DateTimeOffset at, double capacityLitres)
    {
        _state.FrozenLitres = _plan.On(FaultKind.TankFrozen, at) is null ? null : _state.FrozenLitres ?? _state.TankLitres;
        double drift = _plan.On(FaultKind.TankDrift, at) is { } fault ? fault.DriftSharePerDay * (at - fault.From).TotalDays * capacityLitres : 0;
        return _state.FrozenLitres ?? Math.Max(0, _state.TankLitres + drift);
    }

    private void Leak(DateTimeOffset at)
    {
        if (_plan.On(FaultKind.TankLeak, at) is { } leak)
        {
            double lost = Math.Min(_state.TankLitres, leak.LitresPerDay * Step.TotalDays);
            _state.TankLitres -= lost;
            LeakLitres += lost;
        }
    }

    private bool CountByItself(DateTimeOffset at)
    {
        bool moved = false;
        for (int tool = 0; tool < _plan.Habits.Count; tool++)
        {
            if (_plan.On(FaultKind.CounterRunaway, at, _plan.Habits[tool].Slug) is { } fault)
            {
                int counts = _chance.Poisson(fault.CountsPerHour * Step.TotalHours);
                _state.Counters[tool] += counts;
                moved |= counts > 0;
            }
        }

        return moved;
    }

    // Who looks after a station tries its tools.
    private bool TestTools(DateTimeOffset before, DateTimeOffset at)
    {
        bool moved = false;
        foreach (PlannedVisit visit in _plan.Visits)
        {
            if (visit.TestUses > 0 && before < visit.At && visit.At <= at && !_state.IsCutOff)
            {
                for (int tool = 0; tool < _plan.Habits.Count; tool++)
                {
                    if (_plan.Hangs(tool, at) && !_plan.IsOut(tool, at))
                    {
                        _state.Counters[tool] += visit.TestUses;
                        ServiceUses[tool] += visit.TestUses;
                        moved = true;
                    }
                }
            }
        }

        return moved;
    }

    private (double WattHours, bool Moved) Clean(DateTimeOffset at, double capacityLitres)
    {
        double wattHours = 0;
        bool moved = false;
        for (; _nextBoat < _boats.Count && _boats[_nextBoat].At <= at; _nextBoat++)
        {
            Boat boat = _boats[_nextBoat];
            if (boat.At <= at - Step || _state.IsCutOff || !_stay.IsOpenAt(boat.At) || _plan.On(FaultKind.AccessClosed, boat.At) is not null)
            {
                continue;
            }

            BoatsAt.Add(boat.At);
            double inflowBefore = InflowLitres;
            for (int tool = 0; tool < _plan.Habits.Count; tool++)
            {
                if (boat.Presses[tool] == 0 || !_plan.Hangs(tool, boat.At) || _plan.IsOut(tool, boat.At)
                    || (_plan.On(FaultKind.ToolWeak, boat.At, _plan.Habits[tool].Slug) is { } weak && !_chance.Chance(weak.KeptShare)))
                {
                    continue;
                }

                moved = true;
                _state.Counters[tool] += boat.Presses[tool];
                Uses[tool] += boat.Presses[tool];
                wattHours += boat.Presses[tool] * _plan.Habits[tool].WattHours;
                Fill(boat.Litres[tool], capacityLitres, boat.At);
            }

            BoatLitres.Add(InflowLitres - inflowBefore);
        }

        return (wattHours, moved);
    }

    private void Fill(double litres, double capacityLitres, DateTimeOffset at)
    {
        if (capacityLitres <= 0)
        {
            return;
        }

        double over = Math.Max(0, _state.TankLitres + litres - capacityLitres);
        _state.TankLitres += litres - over;
        InflowLitres += litres;
        OverflowLitres += over;
        FullAt ??= over > 0 ? at : null;
    }

    // Looks at the fleet at seven, and drives out the same morning.
    private void SendTechnician(DateTimeOffset before, DateTimeOffset at, FleetTank? tank)
    {
        if (tank is null || !(before < _seven && _seven <= at) || _plan.IsDayOff(_date)
            || _state.TankLitres < _plan.RaiseShare * tank.CapacityLitres)
        {
            return;
        }

        DateTimeOffset visit = _seven.AddMinutes(150 + Math.Floor(120 * Dice.At(_plan.Seed, _plan.Station.Code + "/drive", _date.DayNumber)));
        if (_plan.TechnicianUntil is not { } until || visit < until)
        {
            _pumpOuts.Add(visit);
        }
    }

    private double AirTempC(DateTimeOffset at)
    {
        double hour = (at.UtcDateTime + _offset).TimeOfDay.TotalHours;
        return _weather.MeanTempC + (_weather.SwingC * Math.Cos(2 * Math.PI * (hour - 15.5) / 24));
    }
}
