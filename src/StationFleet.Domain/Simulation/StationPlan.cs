using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Simulation;

/// <summary>A stay of a switched-on station at one access: its controller starts anew at the beginning.</summary>
/// <param name="Access">The access.</param>
/// <param name="From">Switched on.</param>
/// <param name="To">Switched off; null while it lasts.</param>
internal sealed record Stay(FleetAccess Access, DateTimeOffset From, DateTimeOffset? To)
{
    public DateTimeOffset End => To ?? DateTimeOffset.MaxValue;

    public bool IsOpenAt(DateTimeOffset at) => Access.Closures.All(closure => at < closure.From || (closure.To is { } end && at >= end));
}

/// <summary>All that is fixed beforehand for one simulated station.</summary>
internal sealed class StationPlan
{
    private readonly IReadOnlyList<PlannedFault> _planned;
    private List<PlannedFault> _faults = [];
    private readonly IReadOnlyList<FleetTank> _tanks;
    private readonly IReadOnlyList<FleetPower> _powers;

    public StationPlan(FleetFile fleet, FleetStation station, SimulationOptions options)
    {
        FleetSimulation simulation = fleet.Simulation ?? new FleetSimulation();
        Station = station;
        Zone = fleet.Zone;
        Seed = options.Seed ?? simulation.Seed;
        TechnicianUntil = options.TechnicianUntil;
        World = World.Of(simulation.World);
        BaseLoadWatts = simulation.BaseLoadWatts;
        Holidays = simulation.Holidays;
        BoatsPerDay = simulation.BoatsPerDay;
        Habits = [.. station.Tools.Select(tool => ToolHabit.Of(station.Code, tool, simulation))];
        Visits = [.. simulation.Visits.Concat(options.Visits ?? []).Where(visit => visit.Station == station.Code).OrderBy(visit => visit.At)];
        _planned = [.. simulation.Faults.Where(fault => fault.Station == station.Code)];
        EndFaults();
        Tank = station.TankHistory;
        _tanks = [.. station.Tanks.OrderBy(tank => tank.From ?? DateTimeOffset.MinValue)];
        _powers = [.. station.Power.OrderBy(power => power.From ?? DateTimeOffset.MinValue)];
        Stays = [.. StaysOf(fleet, station)];
        Accesses = fleet.Accesses.ToDictionary(access => access.Slug);
    }

    public FleetStation Station { get; }

    public TimeZoneInfo Zone { get; }

    public long Seed { get; }

    public World World { get; }

    public double BaseLoadWatts { get; }

    public DateTimeOffset? TechnicianUntil { get; }

    public IReadOnlyList<SimulatedHoliday> Holidays { get; }

    public IReadOnlyDictionary<string, double> BoatsPerDay { get; }

    public IReadOnlyList<ToolHabit> Habits { get; }

    public IReadOnlyList<PlannedVisit> Visits { get; private set; }

    public IReadOnlyDictionary<string, FleetAccess> Accesses { get; }

    /// <summary>The faults, each with its true end.</summary>
    public IReadOnlyList<PlannedFault> Faults => _faults;

    public IReadOnlyList<Stay> Stays { get; }

    public TankHistory Tank { get; }

    public double RaiseShare => (Station.Rules ?? Watch.RuleSettings.Default).TankRaiseShare;

    public FleetTank? TankAt(DateTimeOffset at) => _tanks.LastOrDefault(tank => (tank.From ?? DateTimeOffset.MinValue) <= at);

    public FleetPower? PowerAt(DateTimeOffset at) => _powers.LastOrDefault(power => (power.From ?? DateTimeOffset.MinValue) <= at);

    public bool Hangs(int tool, DateTimeOffset at) =>
        at >= (Station.Tools[tool].Installed ?? Station.Created) && (Station.Tools[tool].Removed is not { } removed || at < removed);

    /// <summary>The fault of a kind (and tool) that is on at an instant; null when there is none.</summary>
    public PlannedFault? On(FaultKind kind, DateTimeOffset at, string? tool = null)
    {
        foreach (PlannedFault fault in _faults)
        {
            if (fault.Kind == kind && fault.Tool == tool && IsOn(fault, at))
            {
                return fault;
            }
        }

        return null;
    }

    /// <summary>Whether nothing can be done with a tool.</summary>
    public bool IsOut(int tool, DateTimeOffset at)
    {
        string slug = Habits[tool].Slug;
        return _faults.Count > 0 && (On(FaultKind.ToolMissing, at, slug) ?? On(FaultKind.ToolDead, at, slug) ?? On(FaultKind.StationUnused, at)) is not null;
    }

    public PlannedFault? RestartIn(DateTimeOffset after, DateTimeOffset upTo) =>
        _faults.Count == 0 ? null : _faults.LastOrDefault(fault => fault.Kind == FaultKind.CounterRestart && after < fault.From && fault.From <= upTo);

    /// <summary>Share of its power that a panel still gives.</summary>
    public double PanelShareAt(DateTimeOffset at, bool isAfternoon)
    {
        double left = 1;
        foreach (PlannedFault fault in _faults)
        {
            if (IsOn(fault, at))
            {
                left *= fault.Kind switch
                {
                    FaultKind.PanelDisconnected => 0,
                    FaultKind.PanelShaded when isAfternoon => 1 - fault.Loss,
                    FaultKind.PanelSoiled => 1 - Math.Min(0.97, fault.Loss + (fault.LossPerDay * (at - fault.From).TotalDays)),
                    _ => 1,
                };
            }
        }

        return left;
    }

    /// <summary>A visit that nobody had planned; it must lie after everything that was simulated.</summary>
    public void Add(PlannedVisit visit)
    {
        Visits = [.. Visits.Append(visit).OrderBy(v => v.At)];
        EndFaults();
    }

    public bool IsDayOff(DateOnly date) =>
        date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday || Holidays.Any(holiday => holiday.Date == date && holiday.DayOff);

    private static bool IsOn(PlannedFault fault, DateTimeOffset at) => fault.From <= at && (fault.To is not { } end || at < end);

    // A visit that undoes a fault ends it.
    private void EndFaults() => _faults =
    [
        .. _planned.Select(fault => Visits.FirstOrDefault(visit => visit.Ends(fault)) is { } visit && visit.At < (fault.To ?? DateTimeOffset.MaxValue)
            ? fault with { To = visit.At }
            : fault),
    ];

    private static IEnumerable<Stay> StaysOf(FleetFile fleet, FleetStation station)
    {
        foreach (FleetPlacement placement in station.Placements.OrderBy(placement => placement.From))
        {
            FleetAccess access = fleet.Accesses.First(a => a.Slug == placement.Access);
            DateTimeOffset from = placement.From < station.Created ? station.Created : placement.From;
            DateTimeOffset end = placement.To ?? DateTimeOffset.MaxValue;
            foreach (FleetPeriod winter in station.Winter.Where(w => (w.To ?? DateTimeOffset.MaxValue) > from && w.From < end).OrderBy(w => w.From))
            {
                if (winter.From > from)
                {
                    yield return new Stay(access, from, winter.From);
                }

                from = winter.To ?? DateTimeOffset.MaxValue;
            }

            if (from < end)
            {
                yield return new Stay(access, from, placement.To);
            }
        }
    }
}
