namespace StationFleet.Web.Service.Routes;

public static class RouteServices
{
    public static IServiceCollection AddRoutes(this IServiceCollection services) => services
        .AddSingleton<ReadRouteNeeds>().AddSingleton<PlanRoute>().AddSingleton<ReadRoute>().AddSingleton<SetRouteOfDay>()
        .AddSingleton<ReadRouteSetup>().AddSingleton<SaveYard>().AddSingleton<RemoveYard>().AddSingleton<SaveDrive>().AddSingleton<SaveRouteSettings>();
}
