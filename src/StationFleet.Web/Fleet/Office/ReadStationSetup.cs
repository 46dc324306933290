using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Everything that is set up about one station.</summary>
public sealed class ReadStationSetup(
    IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements, FleetClock clock, IOptions<FleetOptions> options)
{
    public sealed record ToolRow(
        int Id, string Slug, ToolKind Kind, string Name, DateTimeOffset Installed, DateTimeOffset? Removed, double? IdleAfterDays, double? UsesWrapAt);

    public sealed record TankRow(int Id, DateTimeOffset From, TankSetup Tank);

    public sealed record CalibrationRow(int Id, LevelCalibration Calibration);

    public sealed record PowerRow(
        int Id, DateTimeOffset From, BatteryChemistry Chemistry, double CapacityAh, double NominalVolts, double PanelWatts, double TiltDeg, double AzimuthDeg,
        double HeightM, RestVoltageTable? RestTable);

    public sealed record KeyRow(int Id, string Prefix, DateTimeOffset Created, DateTimeOffset? LastUsed, DateTimeOffset? Revoked);

    public sealed record PlacementRow(
        PlacementId Id, AccessId Access, string Place, string Water, string ZoneId, DateTimeOffset From, DateTimeOffset? To)
    {
        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);
    }

    public sealed record WinterRow(int Id, DateTimeOffset From, DateTimeOffset? To);

    /// <summary>The whole page; lists are newest first.</summary>
    public sealed record View(
        StationId Id,
        string Code,
        bool IsPortable,
        AgencyId Owner,
        AgencyId Operator,
        TimeSpan ReportEvery,
        bool HasNoClock,
        DateTimeOffset Created,
        string ZoneId,
        IReadOnlyList<ToolRow> Tools,
        IReadOnlyList<TankRow> Tanks,
        IReadOnlyList<CalibrationRow> Calibrations,
        IReadOnlyList<LatestValue> SensorSays,
        IReadOnlyList<PowerRow> Powers,
        IReadOnlyList<KeyRow> Keys,
        IReadOnlyList<PlacementRow> Placements,
        IReadOnlyList<WinterRow> Winters,
        DateTimeOffset? FinalUpTo)
    {
        /// <summary>What opens gate and boxes; may be empty, as is who has keys.</summary>
        public string AccessCode { get; init; } = "";

        public string KeyHolders { get; init; } = "";

        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);

        [JsonIgnore]
        public TankHistory TankHistory => new(
            [.. Tanks.Select(row => new DatedTank(row.From, row.Tank))], [.. Calibrations.Select(row => row.Calibration)]);

        [JsonIgnore]
        public PlacementRow? Present => Placements.FirstOrDefault(placement => placement.To is null);

        [JsonIgnore]
        public WinterRow? Winter => Winters.FirstOrDefault(winter => winter.To is null);
    }

    /// <summary>The station's setup; null when there is none of this code that the person may see.</summary>
    public async Task<View?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? station = await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel);
        if (station is null)
        {
            return null;
        }

        StationId id = station.Id;
        TimeZoneInfo zone = await StationZones.OfAsync(db, id, clock.GetUtcNow(), options.Value, cancel);
        return new View(
            id,
            station.Code,
            station.IsPortable,
            station.OwnerId,
            station.OperatorId,
            station.ReportEvery,
            station.HasNoClock,
            station.Created,
            zone.Id,
            await db.Tools.Where(tool => tool.StationId == id).OrderBy(tool => tool.Removed != null).ThenBy(tool => tool.Slug)
                .Select(tool => new ToolRow(tool.Id, tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.Removed, tool.IdleAfterDays, tool.UsesWrapAt)).ToListAsync(cancel),
            [
                .. (await db.StationTanks.AsNoTracking().Where(tank => tank.StationId == id).OrderByDescending(tank => tank.From).ToListAsync(cancel))
                    .Select(tank => new TankRow(tank.Id, tank.From, tank.ToSetup())),
            ],
            [
                .. (await db.StationCalibrations.AsNoTracking().Where(row => row.StationId == id).OrderByDescending(row => row.From).ToListAsync(cancel))
                    .Select(row => new CalibrationRow(row.Id, row.ToCalibration())),
            ],
            [.. (await measurements.LatestAsync(id, cancel)).Where(value => TankReading.NeededNames.Contains(value.Name))],
            await db.StationPowers.Where(power => power.StationId == id).OrderByDescending(power => power.From)
                .Select(power => new PowerRow(
                    power.Id, power.From, power.Chemistry, power.CapacityAh, power.NominalVolts, power.PanelWatts, power.TiltDeg, power.AzimuthDeg,
                    power.HeightM, power.RestTable))
                .ToListAsync(cancel),
            await db.StationKeys.Where(key => key.StationId == id).OrderBy(key => key.Revoked != null).ThenByDescending(key => key.Created)
                .Select(key => new KeyRow(key.Id, key.Prefix, key.Created, key.LastUsed, key.Revoked)).ToListAsync(cancel),
            await db.Placements.Where(placement => placement.StationId == id).OrderByDescending(placement => placement.From)
                .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) => new PlacementRow(
                    placement.Id, access.Id, access.Name, access.Water, access.TimeZone, placement.From, placement.To))
                .ToListAsync(cancel),
            await db.WinterStorages.Where(winter => winter.StationId == id).OrderByDescending(winter => winter.From)
                .Select(winter => new WinterRow(winter.Id, winter.From, winter.To)).ToListAsync(cancel),
            await measurements.SealedUpToAsync(id, cancel))
        {
            AccessCode = station.AccessCode, KeyHolders = station.KeyHolders,
        };
    }
}
