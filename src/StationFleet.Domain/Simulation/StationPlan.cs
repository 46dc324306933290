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
    private readonly List<PlannedFault> _faults;
    private readonly IReadOnlyList<FleetTank> _tanks;
    private readonly IReadOnlyList<FleetPower> _powers;

    public StationPlan(FleetFile fleet, FleetStation station, SimulationOptions options)
    {
        FleetSimulation simulation = fleet.Simulation ?? new FleetSimulation();
        Station = station;
        Zone = fleet.Zone;
        Seed = options.Seed ?? simulation.Seed;
        TechnicianUntil = options.TechnicianUntil;
        Holidays = simulation.Holidays;
        BoatsPerDay = simulation.BoatsPerDay;
        Habits = [.. station.Tools.Select(tool => ToolHabit.Of(station.Code, tool, simulation))];
        Visits = [.. simulation.Visits.Concat(options.Visits ?? []).Where(visit => visit.Station == station.Code).OrderBy(visit => visit.At)];
        _faults = [.. simulation.Faults.Where(fault => fault.Station == station.Code).Select(fault => fault with { To = EndOf(fault) })];
        Tank = station.TankHistory;
        _tanks = [.. station.Tanks.OrderBy(tank => tank.From ?? DateTimeOffset.MinValue)];
        _powers = [.. station.Power.OrderBy(power => power.From ?? DateTimeOffset.MinValue)];
        Stays = [.. StaysOf(fleet, station)];
    }

    public FleetStation Station { get; }

    public TimeZoneInfo Zone { get; }

    public long Seed { get; }

    public DateTimeOffset? TechnicianUntil { get; }

    public IReadOnlyList<SimulatedHoliday> Holidays { get; }

    public IReadOnlyDictionary<string, double> BoatsPerDay { get; }

    public IReadOnlyList<ToolHabit> Habits { get; }

    public IReadOnlyList<PlannedVisit> Visits { get; }

    public IReadOnlyList<Stay> Stays { get; }

    public TankHistory Tank { get; }

    public double RaiseShare => (Station.Rules ?? Watch.RuleSettings.Default).TankRaiseShare;

    public IEnumerable<PlannedFault> Outages => _faults.Where(fault => fault.Kind == FaultKind.RadioOutage);

    public FleetTank? TankAt(DateTimeOffset at) => _tanks.LastOrDefault(tank => (tank.From ?? DateTimeOffset.MinValue) <= at);

    public FleetPower? PowerAt(DateTimeOffset at) => _powers.LastOrDefault(power => (power.From ?? DateTimeOffset.MinValue) <= at);

    public bool Hangs(int tool, DateTimeOffset at) =>
        at >= (Station.Tools[tool].Installed ?? Station.Created) && (Station.Tools[tool].Removed is not { } removed || at < removed);

    public bool IsMissing(int tool, DateTimeOffset at) =>
        _faults.Any(fault => fault.Kind == FaultKind.ToolMissing && fault.Tool == Habits[tool].Slug && IsOn(fault, at));

    public DateTimeOffset? RestartIn(DateTimeOffset after, DateTimeOffset upTo) =>
        _faults.Where(fault => fault.Kind == FaultKind.CounterRestart && after < fault.From && fault.From <= upTo)
            .Select(fault => (DateTimeOffset?)fault.From).LastOrDefault();

    /// <summary>Share of its power that a panel still gives.</summary>
    public double PanelShareAt(DateTimeOffset at) =>
        1 - _faults.Where(fault => fault.Kind == FaultKind.PanelSoiled && IsOn(fault, at))
            .Select(fault => Math.Min(0.97, fault.LossPerDay * (at - fault.From).TotalDays)).DefaultIfEmpty(0).Max();

    public bool IsDayOff(DateOnly date) =>
        date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday || Holidays.Any(holiday => holiday.Date == date && holiday.DayOff);

    private static bool IsOn(PlannedFault fault, DateTimeOffset at) => fault.From <= at && (fault.To is not { } end || at < end);

    // A visit that undoes a fault ends it.
    private DateTimeOffset? EndOf(PlannedFault fault)
    {
        DateTimeOffset? mended = Visits.FirstOrDefault(visit => visit.At >= fault.From && fault.Kind switch
        {
            FaultKind.ToolMissing => visit.ReplaceTool == fault.Tool,
            FaultKind.PanelSoiled => visit.CleanPanel,
            _ => false,
        })?.At;
        return mended < (fault.To ?? DateTimeOffset.MaxValue) ? mended : fault.To;
    }

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
