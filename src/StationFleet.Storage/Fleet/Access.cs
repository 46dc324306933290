using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A public access where a station can stand; its time zone decides local days.</summary>
public sealed class Access
{
    public AccessId Id { get; init; }

    /// <summary>The name in addresses: lower-case letters, digits and hyphens.</summary>
    public required string Slug { get; set; }

    public required string Name { get; set; }

    /// <summary>The water it leads to.</summary>
    public required string Water { get; set; }

    public AgencyId HostId { get; set; }

    /// <summary>IANA id, such as <c>America/Boise</c>.</summary>
    public required string TimeZone { get; set; }

    public double Latitude { get; set; }

    public double Longitude { get; set; }

    public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(TimeZone);
}

internal sealed class AccessConfiguration : IEntityTypeConfiguration<Access>
{
    public void Configure(EntityTypeBuilder<Access> builder)
    {
        builder.ToTable("accesses");
        builder.Property(access => access.Id).ValueGeneratedOnAdd();
        builder.Property(access => access.Slug).HasMaxLength(60);
        builder.Property(access => access.Name).HasMaxLength(120);
        builder.Property(access => access.Water).HasMaxLength(120);
        builder.Property(access => access.TimeZone).HasMaxLength(60);
        builder.Ignore(access => access.Zone);
        builder.HasOne<Agency>().WithMany().HasForeignKey(access => access.HostId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(access => access.Slug).IsUnique();
    }
}

/// <summary>A stretch of time in which an access is closed.</summary>
public sealed class AccessClosure
{
    public int Id { get; init; }

    public AccessId AccessId { get; init; }

    public DateTimeOffset From { get; set; }

    public DateTimeOffset? To { get; set; }

    public required string Reason { get; set; }
}

internal sealed class AccessClosureConfiguration : IEntityTypeConfiguration<AccessClosure>
{
    public void Configure(EntityTypeBuilder<AccessClosure> builder)
    {
        builder.ToTable("access_closures");
        builder.Property(closure => closure.Reason).HasMaxLength(200);
        builder.HasOne<Access>().WithMany().HasForeignKey(closure => closure.AccessId).OnDelete(DeleteBehavior.Restrict);

        // Serves "when was this access closed?".
        builder.HasIndex(closure => new { closure.AccessId, closure.From });
    }
}
