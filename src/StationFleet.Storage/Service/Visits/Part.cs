using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Service;

namespace StationFleet.Storage.Service.Visits;

/// <summary>A kind of spare part that is counted.</summary>
public sealed class Part
{
    public int Id { get; init; }

    public required string Name { get; set; }

    /// <summary>Order more when truck and yard together hold so many, or fewer.</summary>
    public int ReorderAt { get; set; }
}

internal sealed class PartConfiguration : IEntityTypeConfiguration<Part>
{
    public void Configure(EntityTypeBuilder<Part> builder)
    {
        builder.ToTable("parts");
        builder.Property(part => part.Name).HasMaxLength(120);
        builder.HasIndex(part => part.Name).IsUnique();
    }
}

/// <summary>Parts that came or went; a place's count is the sum of its moves, and no move is ever overwritten.</summary>
public sealed class PartMove
{
    public int Id { get; init; }

    public int PartId { get; init; }

    public PartPlace Place { get; init; }

    /// <summary>How many came; below nought: went.</summary>
    public int Change { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    /// <summary>The visit that used them; null when they were counted, bought or carried.</summary>
    public int? VisitId { get; init; }

    public string? Note { get; init; }
}

internal sealed class PartMoveConfiguration : IEntityTypeConfiguration<PartMove>
{
    public void Configure(EntityTypeBuilder<PartMove> builder)
    {
        builder.ToTable("part_moves");
        builder.Property(move => move.Note).HasMaxLength(200);
        builder.HasOne<Part>().WithMany().HasForeignKey(move => move.PartId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<ServiceVisit>().WithMany().HasForeignKey(move => move.VisitId).OnDelete(DeleteBehavior.Restrict);

        // Serves the counts.
        builder.HasIndex(move => new { move.PartId, move.Place });
    }
}
