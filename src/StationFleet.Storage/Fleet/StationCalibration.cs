using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;

namespace StationFleet.Storage.Fleet;

/// <summary>A sensor of a station's tank set right by two readings, from an instant on, until the next or the next tank.</summary>
public sealed class StationCalibration : IStationPart
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>The measurement that it corrects: one of the <c>tank/…</c> names.</summary>
    public required string Name { get; init; }

    public DateTimeOffset From { get; init; }

    public double LowRaw { get; init; }

    public double LowTrue { get; init; }

    public double HighRaw { get; init; }

    public double HighTrue { get; init; }

    public double? AirTempC { get; init; }

    public static StationCalibration Of(StationId station, LevelCalibration calibration) => new()
    {
        StationId = station,
        Name = calibration.Name,
        From = calibration.From,
        LowRaw = calibration.Low.Raw,
        LowTrue = calibration.Low.True,
        HighRaw = calibration.High.Raw,
        HighTrue = calibration.High.True,
        AirTempC = calibration.AirTempC,
    };

    public LevelCalibration ToCalibration() => new(
        Name, From, new CalibrationPoint(LowRaw, LowTrue), new CalibrationPoint(HighRaw, HighTrue), AirTempC);
}

internal sealed class StationCalibrationConfiguration : IEntityTypeConfiguration<StationCalibration>
{
    public void Configure(EntityTypeBuilder<StationCalibration> builder)
    {
        builder.ToTable("station_calibrations");
        builder.Property(calibration => calibration.Name).HasMaxLength(40);
        builder.HasOne<Station>().WithMany().HasForeignKey(calibration => calibration.StationId).OnDelete(DeleteBehavior.Restrict);

        // One calibration of one sensor from one instant on; serves "how was it calibrated then?".
        builder.HasIndex(calibration => new { calibration.StationId, calibration.Name, calibration.From }).IsUnique();
    }
}
