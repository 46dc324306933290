using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A body that owns, runs or hosts stations.</summary>
public sealed class Agency
{
    public AgencyId Id { get; init; }

    public required string Name { get; set; }
}

internal sealed class AgencyConfiguration : IEntityTypeConfiguration<Agency>
{
    public void Configure(EntityTypeBuilder<Agency> builder)
    {
        builder.ToTable("agencies");
        builder.Property(agency => agency.Id).ValueGeneratedOnAdd();
        builder.Property(agency => agency.Name).HasMaxLength(120);
        builder.HasIndex(agency => agency.Name).IsUnique();
    }
}
