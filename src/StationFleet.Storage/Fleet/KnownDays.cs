using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>Days that are known to bring more boats than usual, or fewer: a holiday, a tournament.</summary>
public sealed class KnownDays
{
    public int Id { get; init; }

    /// <summary>The access that it concerns; null: all of them.</summary>
    public AccessId? AccessId { get; set; }

    public required string Name { get; set; }

    public DateOnly FirstDay { get; set; }

    public DateOnly LastDay { get; set; }

    /// <summary>How many times the usual sessions are expected; above 0.</summary>
    public double Factor { get; set; }
}

internal sealed class KnownDaysConfiguration : IEntityTypeConfiguration<KnownDays>
{
    public void Configure(EntityTypeBuilder<KnownDays> builder)
    {
        builder.ToTable("known_days");
        builder.Property(known => known.Name).HasMaxLength(100);
        builder.HasOne<Access>().WithMany().HasForeignKey(known => known.AccessId).OnDelete(DeleteBehavior.Restrict);
    }
}
