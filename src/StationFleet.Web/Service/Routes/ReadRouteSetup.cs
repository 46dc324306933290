using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service.Routes;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Routes;

/// <summary>What days on the road are reckoned with, as the Office shows it; public, since its page keeps it.</summary>
/// <param name="Drives">Driving times between all places.</param>
public sealed record RouteSetup(
    IReadOnlyList<RouteSetup.Base> Yards, IReadOnlyList<RouteSetup.Drive> Drives, IReadOnlyList<RoutePlace> Places, RouteSettings Settings, bool MayChange)
{
    public sealed record Base(int Id, string Name, double Latitude, double Longitude);

    /// <param name="Known">As people set it [min]; null when nobody did.</param>
    /// <param name="Reckoned">From the straight line [min].</param>
    public sealed record Drive(string FromKey, string From, string ToKey, string To, double? Known, double Reckoned);
}

/// <summary>Reads yards, driving times and settings for the Office.</summary>
internal sealed class ReadRouteSetup(IDbContextFactory<FleetDbContext> databases)
{
    public async Task<RouteSetup> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        RouteSettings settings = await RouteSettingsStore.ReadAsync(db, cancel);
        List<Yard> yards = await db.Yards.OrderBy(yard => yard.Name).ToListAsync(cancel);
        List<RoutePlace> places =
        [
            .. yards.Select(yard => yard.Place),
            .. (await db.Accesses.OrderBy(access => access.Water).ThenBy(access => access.Name).ToListAsync(cancel)).Select(access =>
                new RoutePlace(RoutePlace.KeyOf(access.Id), $"{access.Name}, {access.Water}", access.Latitude, access.Longitude)),
        ];
        DrivingTimes reckoned = new(settings, new Dictionary<(string From, string To), double>());
        Dictionary<(string, string), double> known = await db.KnownDrives.ToDictionaryAsync(drive => (drive.FromKey, drive.ToKey), drive => drive.Minutes, cancel);
        return new RouteSetup(
            [.. yards.Select(yard => new RouteSetup.Base(yard.Id, yard.Name, yard.Latitude, yard.Longitude))],
            [
                .. from start in places
                   from end in places
                   where start.Key != end.Key
                   select new RouteSetup.Drive(
                       start.Key, start.Name, end.Key, end.Name, known.TryGetValue((start.Key, end.Key), out double minutes) ? minutes : null, reckoned.Reckoned(start, end)),
            ],
            places,
            settings,
            RouteRights.MayChange(viewer));
    }
}

/// <summary>Who may change what all days on the road are reckoned with: people of the whole fleet.</summary>
internal static class RouteRights
{
    public static bool MayChange(Viewer viewer) => viewer.MayChangeFleet() && viewer.Agency is null;
}
