using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Simulation;

/// <summary>
/// One invented station. Any local day comes out the same whether it is asked for alone or within a run: its draws depend on seed,
/// station and date only, and what the station carries over (tank, charge, totals) is stepped from the start of its stay and kept.
/// </summary>
/// <remarks>Days are those of the fleet's own time zone. Not safe for use by two threads at once.</remarks>
public sealed class StationSimulator
{
    private readonly StationPlan _plan;
    private readonly Dictionary<DateOnly, StationState> _endOf = [];

    /// <summary>Makes the station as the fleet file describes it.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="code">The station's code.</param>
    /// <param name="options">What differs from the file; null for nothing.</param>
    public StationSimulator(FleetFile fleet, string code, SimulationOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        _plan = new StationPlan(fleet, fleet.Stations.First(station => station.Code == code), options ?? new SimulationOptions());
    }

    /// <summary>The station's code.</summary>
    public string Code => _plan.Station.Code;

    /// <summary>The faults, each with its true end as far as visits so far decide it.</summary>
    public IReadOnlyList<PlannedFault> Faults => _plan.Faults;

    /// <summary>Lets a person come whom nobody had planned.</summary>
    /// <param name="visit">The visit; on a local day after all that were simulated.</param>
    public void Add(PlannedVisit visit) => _plan.Add(visit);

    /// <summary>One local day.</summary>
    /// <param name="date">The local date.</param>
    public SimulatedDay Day(DateOnly date)
    {
        List<SimulatedReport> reports = [];
        DayTruth? truth = null;
        foreach ((Stay stay, StationDay day, StationState end) in RunDay(date))
        {
            ReportBuilder builder = new(_plan, stay, date);
            reports.AddRange(builder.Of(day.Samples));
            truth = TruthOf(truth, date, stay, day, end, builder.Lost);
        }

        return new SimulatedDay(truth, reports);
    }

    /// <summary>The reports of several days in the order in which they are received.</summary>
    /// <param name="first">The first local date.</param>
    /// <param name="last">The last local date.</param>
    /// <param name="onDay">Called with what really happened on each day; null when nobody asks.</param>
    public IEnumerable<SimulatedReport> Run(DateOnly first, DateOnly last, Action<DayTruth>? onDay = null)
    {
        PriorityQueue<SimulatedReport, (DateTimeOffset, int)> waiting = new();
        int made = 0;
        for (DateOnly date = first; date <= last; date = date.AddDays(1))
        {
            SimulatedDay day = Day(date);
            if (day.Truth is not null)
            {
                onDay?.Invoke(day.Truth);
            }

            foreach (SimulatedReport report in day.Reports)
            {
                waiting.Enqueue(report, (report.Received, made++));
            }

            // Nothing that is made later can arrive before the next day begins.
            DateTimeOffset safe = date == last ? DateTimeOffset.MaxValue : LocalCalendar.StartOf(date.AddDays(1), _plan.Zone);
            while (waiting.TryPeek(out SimulatedReport? next, out _) && next.Received <= safe)
            {
                yield return waiting.Dequeue();
            }
        }
    }

    /// <summary>The reports that arrive in a stretch of time, those of days before it included.</summary>
    /// <param name="after">Received after this instant…</param>
    /// <param name="upTo">…and not later than this one.</param>
    public IEnumerable<SimulatedReport> ReceivedBetween(DateTimeOffset after, DateTimeOffset upTo)
    {
        DateTimeOffset earliest = _plan.Faults
            .Where(fault => fault.Kind == FaultKind.RadioOutage && fault.To > after.AddHours(-1) && fault.From < upTo)
            .Select(outage => outage.From).Append(after).Min();
        DateOnly first = LocalCalendar.DateOf(earliest, _plan.Zone).AddDays(_plan.World.IsPlain ? -1 : -3);
        return Run(first, LocalCalendar.DateOf(upTo, _plan.Zone)).Where(report => after < report.Received && report.Received <= upTo);
    }

    private List<(Stay Stay, StationDay Day, StationState End)> RunDay(DateOnly date)
    {
        UtcInterval hours = LocalCalendar.Day(date, _plan.Zone);
        List<(Stay, StationDay, StationState)> parts = [];
        foreach (Stay stay in _plan.Stays.Where(stay => stay.From < hours.End && stay.End > hours.Start))
        {
            StationState state = stay.From >= hours.Start ? Fresh(stay) : EndOf(date.AddDays(-1)).Copy();
            StationDay day = StationDay.Run(_plan, stay, state, date);
            parts.Add((stay, day, state));
        }

        if (parts.Count > 0)
        {
            _endOf.TryAdd(date, parts[^1].Item3.Copy());
        }

        return parts;
    }

    // Walks back to a day whose end is known or where the stay began, and forward again.
    private StationState EndOf(DateOnly date)
    {
        DateOnly known = date;
        while (!_endOf.ContainsKey(known) && _plan.Stays.Any(stay => stay.From < LocalCalendar.StartOf(known, _plan.Zone)
            && stay.End > LocalCalendar.StartOf(known, _plan.Zone)))
        {
            known = known.AddDays(-1);
        }

        for (DateOnly day = known; day <= date; day = day.AddDays(1))
        {
            if (!_endOf.ContainsKey(day))
            {
                RunDay(day);
            }
        }

        return _endOf[date];
    }

    private StationState Fresh(Stay stay) =>
        new(stay.From, _plan.Habits.Count, 0.9 + (0.08 * Dice.At(_plan.Seed, Code + "/fresh", stay.From.UtcTicks)));

    private DayTruth TruthOf(DayTruth? sofar, DateOnly date, Stay stay, StationDay day, StationState end, int lost) => new(
        Code,
        date,
        stay.Access.Slug,
        (sofar?.Boats ?? 0) + day.BoatsAt.Count,
        Sum(sofar?.Uses, day.Uses),
        (sofar?.InflowLitres ?? 0) + day.InflowLitres,
        (sofar?.OverflowLitres ?? 0) + day.OverflowLitres,
        end.TankLitres,
        end.ChargeShare,
        [.. sofar?.PumpOuts ?? [], .. day.PumpOuts],
        (sofar?.ReportsLost ?? 0) + lost)
    {
        BoatsAt = [.. sofar?.BoatsAt ?? [], .. day.BoatsAt],
        BoatLitres = [.. sofar?.BoatLitres ?? [], .. day.BoatLitres],
        ServiceUses = Sum(sofar?.ServiceUses, day.ServiceUses),
        FullAt = sofar?.FullAt ?? day.FullAt,
        LeakLitres = (sofar?.LeakLitres ?? 0) + day.LeakLitres,
        LowestChargeShare = Math.Min(sofar?.LowestChargeShare ?? 1, day.Power.LowestChargeShare),
        SunWattHours = (sofar?.SunWattHours ?? 0) + day.Power.SunWattHours,
        PanelWattHours = (sofar?.PanelWattHours ?? 0) + day.Power.PanelWattHours,
        TakenWattHours = (sofar?.TakenWattHours ?? 0) + day.Power.TakenWattHours,
        LoadWattHours = (sofar?.LoadWattHours ?? 0) + day.Power.LoadWattHours,
        IsRainy = day.IsRainy,
    };

    private Dictionary<string, int> Sum(IReadOnlyDictionary<string, int>? sofar, int[] today) =>
        _plan.Habits.Select((habit, i) => (habit.Slug, Uses: today[i] + (sofar?.GetValueOrDefault(habit.Slug) ?? 0)))
            .ToDictionary(use => use.Slug, use => use.Uses);
}
