using StationFleet.Storage.Grants;

namespace StationFleet.Web.Grants;

public static class GrantServices
{
    public static IServiceCollection AddGrants(this IServiceCollection services)
    {
        services.AddOptions<GrantOptions>().BindConfiguration(GrantOptions.Section).ValidateDataAnnotations().ValidateOnStart();
        return services
            .AddSingleton<RegisterReader>().AddSingleton<ReadRegister>().AddSingleton<ReadItem>().AddSingleton<SaveItem>().AddSingleton<DisposeItem>()
            .AddSingleton<InventoryDesk>().AddSingleton<NoteSighting>();
    }
}
