using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Tanks;

namespace StationFleet.Storage.Fleet;

/// <summary>A station's waste tank from an instant on, until the next row.</summary>
public sealed class StationTank : IStationPart
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset From { get; set; }

    public double CapacityLitres { get; set; }

    /// <summary>For level sensors; kept as JSON.</summary>
    public TankShape? Shape { get; set; }

    public double? SensorHeightM { get; set; }

    /// <summary>The air temperature that a distance sensor reckons with [°C]; null when it corrects for it itself.</summary>
    public double? SensorAssumesC { get; set; }

    public double SensorUncertainty { get; set; } = TankSetup.UsualSensorUncertainty;

    public static StationTank Of(StationId station, DateTimeOffset from, TankSetup tank)
    {
        StationTank row = new() { StationId = station };
        row.Take(from, tank);
        return row;
    }

    /// <summary>Writes a tank over this one.</summary>
    public void Take(DateTimeOffset from, TankSetup tank)
    {
        (From, CapacityLitres, Shape) = (from, tank.CapacityLitres, tank.Shape);
        (SensorHeightM, SensorAssumesC, SensorUncertainty) = (tank.SensorHeightM, tank.SensorAssumesC, tank.SensorUncertainty);
    }

    public TankSetup ToSetup() => new(CapacityLitres, Shape, SensorHeightM)
    {
        SensorAssumesC = SensorAssumesC, SensorUncertainty = SensorUncertainty,
    };
}

internal sealed class StationTankConfiguration : IEntityTypeConfiguration<StationTank>
{
    public void Configure(EntityTypeBuilder<StationTank> builder)
    {
        builder.ToTable("station_tanks");
        builder.Property(tank => tank.Shape).HasConversion(
            shape => JsonSerializer.Serialize(shape, JsonSerializerOptions.Web),
            json => JsonSerializer.Deserialize<TankShape>(json, JsonSerializerOptions.Web)!);
        builder.HasOne<Station>().WithMany().HasForeignKey(tank => tank.StationId).OnDelete(DeleteBehavior.Restrict);

        // One tank from one instant on; serves "which tank was it then?".
        builder.HasIndex(tank => new { tank.StationId, tank.From }).IsUnique();
    }
}

/// <summary>A station's battery and panel from an instant on, until the next row.</summary>
public sealed class StationPower : IStationPart
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset From { get; set; }

    public BatteryChemistry Chemistry { get; set; }

    public double CapacityAh { get; set; }

    public double NominalVolts { get; set; } = 12;

    public double PanelWatts { get; set; }

    public double TiltDeg { get; set; } = 45;

    public double AzimuthDeg { get; set; } = 180;

    /// <summary>Height over the sea [m].</summary>
    public double HeightM { get; set; }

    /// <summary>Which table tells the charge from a rest voltage; null takes the usual one of the chemistry.</summary>
    public RestVoltageTable? RestTable { get; set; }

    public PowerSetup ToSetup() => new(Chemistry, CapacityAh, NominalVolts, PanelWatts, TiltDeg, AzimuthDeg) { HeightM = HeightM, RestTable = RestTable };
}

internal sealed class StationPowerConfiguration : IEntityTypeConfiguration<StationPower>
{
    public void Configure(EntityTypeBuilder<StationPower> builder)
    {
        builder.ToTable("station_powers");
        builder.HasOne<Station>().WithMany().HasForeignKey(power => power.StationId).OnDelete(DeleteBehavior.Restrict);

        // One battery from one instant on; serves "which battery was it then?".
        builder.HasIndex(power => new { power.StationId, power.From }).IsUnique();
    }
}
