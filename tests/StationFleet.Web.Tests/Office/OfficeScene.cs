using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Office;

/// <summary>What the Office's tests find in the database at first.</summary>
internal static class OfficeScene
{
    /// <summary>The one row that meets a condition, as the database holds it now.</summary>
    public static async Task<T> FindAsync<T>(this FleetApp app, Expression<Func<T, bool>> condition)
        where T : class
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        return await db.Set<T>().AsNoTracking().SingleAsync(condition);
    }

    /// <summary>The agency of this name, made when there is none.</summary>
    public static Task<Agency> AgencyAsync(this FleetApp app, string name = "Juniper Basin Watershed District") => app.Databases.AddAgencyAsync(name);

    /// <summary>A public access in Boise's time zone.</summary>
    public static async Task<Access> AddAccessAsync(this FleetApp app, string slug, string name = "Dam Road")
    {
        Agency host = await app.AgencyAsync();
        return await app.Databases.AddAsync(new Access
        {
            Slug = slug,
            Name = name,
            Water = "Copperline Reservoir",
            HostId = host.Id,
            TimeZone = "America/Boise",
            Latitude = 44.4,
            Longitude = -115.2,
        });
    }

    /// <summary>A station that has stood at the access, when one is given, since it exists: 30 days.</summary>
    public static async Task<Station> AddStationAsync(this FleetApp app, string code, Access? access = null)
    {
        Agency owner = await app.AgencyAsync();
        Station station = await app.Databases.AddAsync(
            new Station { Code = code, OwnerId = owner.Id, OperatorId = owner.Id, Created = FleetApp.Start.AddDays(-30) });
        if (access is not null)
        {
            await app.Databases.AddPlacementAsync(station, access, station.Created);
        }

        return station;
    }
}
