using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Routes;

namespace StationFleet.Domain.Tests.Service.Routes;

/// <summary>A yard and three accesses along one road, ten minutes apart: Dam Road, Ferry Cove, South Landing.</summary>
internal static class RouteScene
{
    public static TimeZoneInfo Boise { get; } = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    /// <summary>Wednesday 8 July 2026, 08:00 in Boise.</summary>
    public static DateTimeOffset Morning { get; } = new(2026, 7, 8, 14, 0, 0, TimeSpan.Zero);

    public static RouteSettings Settings { get; } = new();

    public static RoutePlace Yard { get; } = new("yard/1", "District yard", 44.40, -115.20);

    private static readonly AccessId DamRoad = new(1);
    private static readonly AccessId FerryCove = new(2);
    private static readonly AccessId SouthLanding = new(3);

    private static readonly Dictionary<AccessId, RoutePlace> Places = new()
    {
        [DamRoad] = new("access/1", "Dam Road access, Copperline Reservoir", 44.41, -115.30),
        [FerryCove] = new("access/2", "Ferry Cove, Copperline Reservoir", 44.45, -115.33),
        [SouthLanding] = new("access/3", "South Landing, Otter Bend Lake", 44.34, -115.13),
    };

    public static RouteNeed AtDamRoad(int minutes = 25, RoutePriority priority = RoutePriority.Usual) =>
        new(DamRoad, "COP-1", "The Drain-plug wrench was passed over by 61 use sessions.", minutes, priority)
        {
            Ticket = 118, Bring = ["spare: Drain-plug wrench"], Cautions = ["Gloves."],
        };

    public static RouteNeed AtFerryCove(int minutes = 45, RoutePriority priority = RoutePriority.Usual) =>
        new(FerryCove, "COP-2", "The tank is 82 % full, 45 of 55 gal; it fills by 6 gal a day.", minutes, priority) { Ticket = 119, Bring = ["pump and hose"] };

    public static RouteNeed AtSouthLanding(int minutes = 40, RoutePriority priority = RoutePriority.Usual) =>
        new(SouthLanding, "OTT-1", "The battery is at 34 %.", minutes, priority) { Ticket = 120 };

    public static RoutePlan Plan(params RouteNeed[] needs) => Plan(8, needs);

    public static RoutePlan Plan(double dayHours, params RouteNeed[] needs)
    {
        string[] road = ["yard/1", "access/1", "access/2", "access/3"];
        Dictionary<(string, string), double> known = [];
        for (int from = 0; from < road.Length; from++)
        {
            for (int to = 0; to < road.Length; to++)
            {
                known[(road[from], road[to])] = 10 * Math.Abs(to - from);
            }
        }

        return RoutePlan.Of(new RouteInput(
            Yard, Yard, Morning, RouteStop.Group(needs, Places, Settings), new DrivingTimes(Settings, known), dayHours));
    }
}
