using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service.Visits;

namespace StationFleet.Storage.Service;

/// <summary>Where the knowledge of a pump-out comes from.</summary>
public enum PumpOutSource
{
    /// <summary>The fill fell, as the station's own sensor saw it.</summary>
    Telemetry,

    /// <summary>A person wrote it down.</summary>
    Visit,
}

/// <summary>One emptying of a waste tank.</summary>
public sealed class PumpOut
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset At { get; init; }

    /// <summary>As a person wrote it down; what the sensor saw is made of its <see cref="Readings"/> whenever it is shown.</summary>
    public double Litres { get; init; }

    public PumpOutSource Source { get; init; }

    public int? VisitId { get; init; }

    /// <summary>Where a person took it; null when nobody said.</summary>
    public int? DisposalSiteId { get; init; }

    /// <summary>What the sensor said before and after, as JSON; null when a person wrote it down.</summary>
    public EmptyingReadings? Readings { get; init; }

    /// <summary>What a person's stick said before the emptying; null when it said a height, or nobody dipped.</summary>
    public double? DipLitres { get; init; }

    /// <summary>The height on the stick before the emptying [m]; null when a volume was read, or nobody dipped.</summary>
    public double? DipLevelM { get; init; }

    public DipReading? Dip => DipLitres is null && DipLevelM is null ? null : new DipReading(DipLitres, DipLevelM);

    /// <summary>An emptying that the sensor saw.</summary>
    public static PumpOut Seen(StationId station, PumpOutSeen seen, TankHistory tank, int? visit = null) => new()
    {
        StationId = station,
        At = seen.At,
        Litres = seen.Readings.LitresBy(tank) ?? 0,
        Source = PumpOutSource.Telemetry,
        VisitId = visit,
        Readings = seen.Readings,
    };

    /// <summary>For counting, with the litres that the tank's setup and calibration of today make of what the sensor said.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <param name="dips">Its compared dips.</param>
    public PumpOutRecord ToRecord(TankHistory tank, IReadOnlyList<TankDip> dips) => new(
        At,
        Readings?.LitresBy(tank) ?? Litres,
        Source == PumpOutSource.Telemetry,
        Source == PumpOutSource.Telemetry ? TankUncertainty.LitresAt(tank, dips, At) : null);
}

internal sealed class PumpOutConfiguration : IEntityTypeConfiguration<PumpOut>
{
    public void Configure(EntityTypeBuilder<PumpOut> builder)
    {
        builder.ToTable("pump_outs");
        builder.Ignore(pumpOut => pumpOut.Dip);
        builder.Property(pumpOut => pumpOut.Readings).HasConversion(
            readings => JsonSerializer.Serialize(readings, JsonSerializerOptions.Web),
            json => JsonSerializer.Deserialize<EmptyingReadings>(json, JsonSerializerOptions.Web)!);
        builder.HasOne<Station>().WithMany().HasForeignKey(pumpOut => pumpOut.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<ServiceVisit>().WithMany().HasForeignKey(pumpOut => pumpOut.VisitId).OnDelete(DeleteBehavior.Restrict);

        builder.HasOne<DisposalSite>().WithMany().HasForeignKey(pumpOut => pumpOut.DisposalSiteId).OnDelete(DeleteBehavior.Restrict);

        // The same emptying is not seen twice by the sensor; also serves a season's pump-outs.
        builder.HasIndex(pumpOut => new { pumpOut.StationId, pumpOut.At, pumpOut.Source }).IsUnique();
    }
}
