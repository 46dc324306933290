using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Service.Routes;

/// <summary>How long people know it takes to drive from one place to another; the way back is a row of its own.</summary>
public sealed class KnownDrive
{
    /// <summary>The key of the place left, as <see cref="Domain.Service.Routes.RoutePlace"/> makes it.</summary>
    public required string FromKey { get; init; }

    /// <summary>The key of the place reached.</summary>
    public required string ToKey { get; init; }

    public double Minutes { get; set; }
}

internal sealed class KnownDriveConfiguration : IEntityTypeConfiguration<KnownDrive>
{
    public void Configure(EntityTypeBuilder<KnownDrive> builder)
    {
        builder.ToTable("known_drives");
        builder.HasKey(drive => new { drive.FromKey, drive.ToKey });
        builder.Property(drive => drive.FromKey).HasMaxLength(40);
        builder.Property(drive => drive.ToKey).HasMaxLength(40);
    }
}
