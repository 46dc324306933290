using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Testing;

/// <summary>Fills a database with what a test needs; everything not named is ordinary.</summary>
public static class FleetBuilders
{
    /// <summary>When the stations of tests were set up.</summary>
    public static DateTimeOffset Created { get; } = new(2025, 4, 1, 0, 0, 0, TimeSpan.Zero);

    public static async Task<Agency> AddAgencyAsync(
        this IDbContextFactory<FleetDbContext> databases, string name = "Juniper Basin Watershed District")
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync();
        if (await db.Agencies.FirstOrDefaultAsync(agency => agency.Name == name) is { } known)
        {
            return known;
        }

        Agency added = new() { Name = name };
        db.Add(added);
        await db.SaveChangesAsync();
        return added;
    }

    public static async Task<Station> AddStationAsync(
        this IDbContextFactory<FleetDbContext> databases, string code = "COP-1", bool isPortable = false)
    {
        Agency agency = await databases.AddAgencyAsync();
        return await databases.AddAsync(new Station
        {
            Code = code, IsPortable = isPortable, OwnerId = agency.Id, OperatorId = agency.Id, Created = Created,
        });
    }

    public static async Task<Access> AddAccessAsync(
        this IDbContextFactory<FleetDbContext> databases, string slug = "dam-road", string timeZone = "America/Boise")
    {
        Agency agency = await databases.AddAgencyAsync();
        return await databases.AddAsync(new Access
        {
            Slug = slug,
            Name = slug,
            Water = "Copperline Reservoir",
            HostId = agency.Id,
            TimeZone = timeZone,
            Latitude = 44.4,
            Longitude = -115.2,
        });
    }

    public static Task<Placement> AddPlacementAsync(
        this IDbContextFactory<FleetDbContext> databases,
        Station station,
        Access access,
        DateTimeOffset? from = null,
        DateTimeOffset? to = null) => databases.AddAsync(new Placement
        {
            StationId = station.Id, AccessId = access.Id, From = from ?? Created, To = to,
        });

    public static Task<Tool> AddToolAsync(
        this IDbContextFactory<FleetDbContext> databases, Station station, string slug = "vacuum", ToolKind kind = ToolKind.Vacuum) =>
        databases.AddAsync(new Tool { StationId = station.Id, Slug = slug, Kind = kind, Name = slug, Installed = Created });

    /// <summary>Adds one row of any kind.</summary>
    public static async Task<T> AddAsync<T>(this IDbContextFactory<FleetDbContext> databases, T row)
        where T : class
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync();
        db.Add(row);
        await db.SaveChangesAsync();
        return row;
    }

    /// <summary>A report of a station, received at its newest measurement's time unless said otherwise.</summary>
    public static ReportToStore Report(Station station, params IReadOnlyList<Measurement> measurements) =>
        ReportReceivedAt(station, measurements.Count == 0 ? Created : measurements.Max(measurement => measurement.At), measurements);

    public static ReportToStore ReportReceivedAt(
        Station station, DateTimeOffset received, params IReadOnlyList<Measurement> measurements) => new(
        station.Id,
        received,
        [.. measurements.Select((m, index) => new IndexedMeasurement(index, m, FormattableString.Invariant($"{m.Name} {m.At:O} {m.Value}")))],
        []);
}
