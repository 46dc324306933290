using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A body that owns, runs or hosts stations.</summary>
public sealed class Agency
{
    public AgencyId Id { get; init; }

    public required string Name { get; set; }

    /// <summary>Whom its reporting rules want told of a new find, and how; null when that is not set up.</summary>
    public string? FindContact { get; set; }

    /// <summary>Within how many hours; null when its rules name no time.</summary>
    public int? FindHours { get; set; }
}

internal sealed class AgencyConfiguration : IEntityTypeConfiguration<Agency>
{
    public void Configure(EntityTypeBuilder<Agency> builder)
    {
        builder.ToTable("agencies");
        builder.Property(agency => agency.Id).ValueGeneratedOnAdd();
        builder.Property(agency => agency.Name).HasMaxLength(120);
        builder.Property(agency => agency.FindContact).HasMaxLength(200);
        builder.HasIndex(agency => agency.Name).IsUnique();
    }
}
