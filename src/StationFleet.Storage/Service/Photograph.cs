using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Service;

/// <summary>A picture that a person added to a ticket; the file itself lies in the data folder.</summary>
public sealed class Photograph
{
    public int Id { get; init; }

    public TicketId TicketId { get; init; }

    /// <summary>When our server learnt of it.</summary>
    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    /// <summary>The file's name in the folder of photographs.</summary>
    public required string File { get; init; }

    /// <summary>In pixels, as it is shown.</summary>
    public int Width { get; init; }

    public int Height { get; init; }

    /// <summary>The form's key and the picture's place in it: the same form sent twice is one picture.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class PhotographConfiguration : IEntityTypeConfiguration<Photograph>
{
    public void Configure(EntityTypeBuilder<Photograph> builder)
    {
        builder.ToTable("photographs");
        builder.HasOne<Ticket>().WithMany().HasForeignKey(photograph => photograph.TicketId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(photograph => new { photograph.TicketId, photograph.Id });
        builder.HasIndex(photograph => photograph.IdempotencyKey).IsUnique();
    }
}
