using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>What lets a station send reports; the secret itself is shown once and only its hash is kept.</summary>
public sealed class StationKey
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>The readable head of the key, by which it is found.</summary>
    public required string Prefix { get; init; }

    /// <summary>SHA-256 of the whole key, as lower-case hex.</summary>
    public required string Hash { get; init; }

    public DateTimeOffset Created { get; init; }

    public DateTimeOffset? Revoked { get; set; }

    public DateTimeOffset? LastUsed { get; set; }
}

internal sealed class StationKeyConfiguration : IEntityTypeConfiguration<StationKey>
{
    public void Configure(EntityTypeBuilder<StationKey> builder)
    {
        builder.ToTable("station_keys");
        builder.Property(key => key.Prefix).HasMaxLength(20);
        builder.Property(key => key.Hash).HasMaxLength(64);
        builder.HasOne<Station>().WithMany().HasForeignKey(key => key.StationId).OnDelete(DeleteBehavior.Restrict);

        // Serves the look-up on every report.
        builder.HasIndex(key => key.Prefix).IsUnique();
    }
}
