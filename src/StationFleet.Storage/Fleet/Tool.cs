using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A tool that hangs on a station; its slug is its name in reports.</summary>
public sealed class Tool
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public required string Slug { get; set; }

    public ToolKind Kind { get; set; }

    public required string Name { get; set; }

    public DateTimeOffset Installed { get; set; }

    public DateTimeOffset? Removed { get; set; }

    /// <summary>Its own limit for Idle tool [d]; null takes the station's.</summary>
    public double? IdleAfterDays { get; set; }

    /// <summary>The number at which its running total of uses goes back to nought; null when it has no such end.</summary>
    public double? UsesWrapAt { get; set; }
}

internal sealed class ToolConfiguration : IEntityTypeConfiguration<Tool>
{
    public void Configure(EntityTypeBuilder<Tool> builder)
    {
        builder.ToTable("tools");
        builder.Property(tool => tool.Slug).HasMaxLength(40);
        builder.Property(tool => tool.Name).HasMaxLength(80);
        builder.HasOne<Station>().WithMany().HasForeignKey(tool => tool.StationId).OnDelete(DeleteBehavior.Restrict);

        // A slug names one tool at a station at a time; a removed tool gives its slug free.
        builder.HasIndex(tool => new { tool.StationId, tool.Slug, tool.Installed }).IsUnique();
    }
}
