using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Service.Visits;

/// <summary>A place that is approved to take what is pumped out of waste tanks.</summary>
public sealed class DisposalSite
{
    public int Id { get; init; }

    public required string Name { get; set; }

    /// <summary>Who permitted it, and under which number.</summary>
    public required string Permission { get; set; }

    /// <summary>The last day on which the permission holds; null when it has no end.</summary>
    public DateOnly? LastDay { get; set; }
}

internal sealed class DisposalSiteConfiguration : IEntityTypeConfiguration<DisposalSite>
{
    public void Configure(EntityTypeBuilder<DisposalSite> builder)
    {
        builder.ToTable("disposal_sites");
        builder.Property(site => site.Name).HasMaxLength(120);
        builder.Property(site => site.Permission).HasMaxLength(200);
        builder.HasIndex(site => site.Name).IsUnique();
    }
}
