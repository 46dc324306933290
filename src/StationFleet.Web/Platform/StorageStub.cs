using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
namespace StationFleet.Web.Platform;
internal static class StorageStub
{
    public static void AddFleetStorage(this IServiceCollection services, string path)
    {
        services.AddDbContextFactory<FleetDbContext>(o => o.UseSqlite($"Data Source={path}"));
        services.AddSingleton<FleetDatabase>();
    }
}
internal sealed class FleetDatabase(IDbContextFactory<FleetDbContext> f) { public async Task OpenAsync(CancellationToken c) { await using var db = f.CreateDbContext(); await db.Database.EnsureCreatedAsync(c); } }
