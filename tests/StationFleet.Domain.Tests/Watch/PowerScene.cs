using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

/// <summary>A station with battery and panel in plain sun: what it says follows from a few numbers.</summary>
internal sealed class PowerScene
{
    public static readonly PowerSetup Agm = new(BatteryChemistry.Agm, 100, 12, 100, 45, 180);

    public static readonly StandingPlace Here = new("Dam Road access", 44.41, -115.31, WatchedStation.Start.AddYears(-1), null);

    private readonly PanelSun _sun;
    private readonly PowerSetup _power;

    public PowerScene(PowerSetup? power = null, NeighbourPanels? neighbours = null, ServiceLog? service = null, RuleSettings? rules = null)
    {
        _power = power ?? Agm;
        _sun = new PanelSun(_power, Here.LatitudeDeg, Here.LongitudeDeg);
        Station = new WatchedStation(WatchedStation.With(rules) with
        {
            Power = _power, Places = [Here], NeighbourPanels = neighbours, Service = service ?? ServiceLog.None,
        });
    }

    public WatchedStation Station { get; }

    /// <summary>What the panel gives of what it would as rated under a clear sky.</summary>
    public double PanelShare { get; set; } = 0.7;

    /// <summary>What the loads draw [W].</summary>
    public double LoadWatts { get; set; } = 7;

    /// <summary>The charge by day, by the local hour; falls at night as the loads draw it.</summary>
    public Func<double, double> Charge { get; set; } = _ => 0.8;

    /// <summary>Days pass; a report every quarter of an hour.</summary>
    public PowerScene PassDays(double days)
    {
        for (DateTimeOffset end = Station.Now.AddDays(days); Station.Now < end;)
        {
            Station.Pass(TimeSpan.FromMinutes(15));
            DateTimeOffset local = TimeZoneInfo.ConvertTime(Station.Now, WatchedStation.Boise);
            double light = _sun.At(Station.Now.AddMinutes(-7.5)).WattsPerM2;
            Station.Report(
                ("solar/power", Math.Round(PanelShare * light / 1000 * _power.PanelWatts, 1)),
                ("load/power", LoadWatts),
                ("battery/charge", Math.Round(Charge(local.TimeOfDay.TotalHours), 3)));
        }

        return this;
    }

    /// <summary>Time passes up to a local hour.</summary>
    public PowerScene PassToHour(double hour)
    {
        DateTimeOffset start = LocalCalendar.StartOf(LocalCalendar.DateOf(Station.Now, WatchedStation.Boise), WatchedStation.Boise);
        DateTimeOffset at = start.AddHours(hour);
        return PassDays(((at > Station.Now ? at : at.AddDays(1)) - Station.Now).TotalDays);
    }
}
