using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Service;

/// <summary>A checklist that a person signed for a station; it is never changed.</summary>
public sealed class SignedChecklist
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public SignedList List { get; init; }

    public DateTimeOffset At { get; init; }

    /// <summary>The person's display name.</summary>
    public required string Who { get; init; }

    /// <summary>Until when it has to dry; clean to move only.</summary>
    public DateTimeOffset? DryUntil { get; init; }

    /// <summary>The steps as they read then, one to a line.</summary>
    public required string Steps { get; init; }

    /// <summary>What the person wrote beside them; may be empty.</summary>
    public string Note { get; init; } = "";

    /// <summary>The form's own key: the same form sent twice is one signature.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class SignedChecklistConfiguration : IEntityTypeConfiguration<SignedChecklist>
{
    public void Configure(EntityTypeBuilder<SignedChecklist> builder)
    {
        builder.ToTable("signed_checklists");
        builder.Property(signed => signed.Who).HasMaxLength(120);
        builder.Property(signed => signed.Note).HasMaxLength(500);
        builder.HasOne<Station>().WithMany().HasForeignKey(signed => signed.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(signed => signed.IdempotencyKey).IsUnique();

        // Serves "was it signed since then?".
        builder.HasIndex(signed => new { signed.StationId, signed.List, signed.At });
    }
}
