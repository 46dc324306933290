using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A cleaning station, fixed or portable.</summary>
public sealed class Station
{
    public StationId Id { get; init; }

    /// <summary>The station's code, which also is its base name in reports: capital letters, digits and hyphens.</summary>
    public required string Code { get; set; }

    public bool IsPortable { get; set; }

    public AgencyId OwnerId { get; set; }

    public AgencyId OperatorId { get; set; }

    /// <summary>From when the station exists; earlier measurements are set aside.</summary>
    public DateTimeOffset Created { get; set; }

    /// <summary>How often it is meant to report.</summary>
    public TimeSpan ReportEvery { get; set; } = TimeSpan.FromMinutes(15);

    /// <summary>Its controller has no clock: relative times are taken at the time of arrival.</summary>
    public bool HasNoClock { get; set; }

    /// <summary>What opens gate and boxes; for signed-in people only. May be empty.</summary>
    public string AccessCode { get; set; } = "";

    /// <summary>Who has the keys, in the agency's words; may be empty.</summary>
    public string KeyHolders { get; set; } = "";
}

internal sealed class StationConfiguration : IEntityTypeConfiguration<Station>
{
    public void Configure(EntityTypeBuilder<Station> builder)
    {
        builder.ToTable("stations");
        builder.Property(station => station.Id).ValueGeneratedOnAdd();
        builder.Property(station => station.Code).HasMaxLength(30);
        builder.Property(station => station.AccessCode).HasMaxLength(60);
        builder.Property(station => station.KeyHolders).HasMaxLength(200);
        builder.HasOne<Agency>().WithMany().HasForeignKey(station => station.OwnerId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Agency>().WithMany().HasForeignKey(station => station.OperatorId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(station => station.Code).IsUnique();
    }
}

/// <summary>A stretch of time in which a station is laid up for the winter.</summary>
public sealed class WinterStorage
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset From { get; set; }

    public DateTimeOffset? To { get; set; }
}

internal sealed class WinterStorageConfiguration : IEntityTypeConfiguration<WinterStorage>
{
    public void Configure(EntityTypeBuilder<WinterStorage> builder)
    {
        builder.ToTable("winter_storages");
        builder.HasOne<Station>().WithMany().HasForeignKey(winter => winter.StationId).OnDelete(DeleteBehavior.Restrict);

        // Serves "when was this station laid up?".
        builder.HasIndex(winter => new { winter.StationId, winter.From });
    }
}

/// <summary>A station at an access from an instant to an instant; a station without one is in transit.</summary>
public sealed class Placement
{
    public PlacementId Id { get; init; }

    public StationId StationId { get; init; }

    public AccessId AccessId { get; init; }

    public DateTimeOffset From { get; set; }

    public DateTimeOffset? To { get; set; }
}

internal sealed class PlacementConfiguration : IEntityTypeConfiguration<Placement>
{
    public void Configure(EntityTypeBuilder<Placement> builder)
    {
        builder.ToTable("placements");
        builder.Property(placement => placement.Id).ValueGeneratedOnAdd();
        builder.HasOne<Station>().WithMany().HasForeignKey(placement => placement.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Access>().WithMany().HasForeignKey(placement => placement.AccessId).OnDelete(DeleteBehavior.Restrict);

        // A station is in one place at a time; also serves "where did it stand then?".
        builder.HasIndex(placement => new { placement.StationId, placement.From }).IsUnique();
    }
}
