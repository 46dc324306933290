namespace StationFleet.Web.Fleet;

public static class FleetServices
{
    public static IServiceCollection AddFleet(this IServiceCollection services) => services
        .AddSingleton<ReadStationStates>()
        .AddSingleton<ReadFleetRows>()
        .AddSingleton<ReadToday>()
        .AddSingleton<ReadWeekAhead>()
        .AddSingleton<ReadStation>()
        .AddSingleton<ReadPower>()
        .AddSingleton<StationCharts>();
}
