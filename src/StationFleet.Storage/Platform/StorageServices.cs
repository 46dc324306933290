using Microsoft.Extensions.DependencyInjection;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Storage.Platform;

/// <summary>What a host registers to use the fleet's database.</summary>
public static class StorageServices
{
    /// <summary>
    /// Adds <see cref="FleetDatabase"/> (call its OpenAsync before anything else), a context factory and the measurement
    /// store. The writer starts when it is first asked for.
    /// </summary>
    /// <param name="services">The host's services.</param>
    /// <param name="databasePath">The database file.</param>
    public static IServiceCollection AddFleetStorage(this IServiceCollection services, string databasePath)
    {
        FleetDatabase database = new(databasePath);
        services.AddSingleton(database);
        services.AddDbContextFactory<FleetDbContext>(options => database.Configure(options));
        services.AddSingleton<MeasurementWriter>();
        services.AddSingleton<MeasurementReader>();
        services.AddSingleton<SetAsideReader>();
        services.AddSingleton<LoggerFileImporter>();
        services.AddSingleton<Retention>();
        return services;
    }
}
