using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Sampling;

/// <summary>A sample that is planned at a station. Whether it was taken follows from the samples, never stored.</summary>
public sealed class SamplePlan
{
    public SamplePlanId Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>The first local day on which it can be taken.</summary>
    public DateOnly From { get; set; }

    /// <summary>The last local day.</summary>
    public DateOnly Due { get; set; }

    public int? Grabs { get; set; }

    public double? LitresPerGrab { get; set; }

    /// <summary>Why the season's calendar chose it; null: a person did.</summary>
    public SampleReason? Reason { get; init; }

    public DateTimeOffset PlannedAt { get; init; }

    public required string PlannedBy { get; init; }

    public DateTimeOffset? ChangedAt { get; set; }

    public string? ChangedBy { get; set; }

    public DateTimeOffset? DismissedAt { get; set; }

    public string? DismissedBy { get; set; }

    /// <summary>Why it is not needed any more.</summary>
    public string? DismissedFor { get; set; }

    /// <summary>Counts changes, so that two people acting at once do not overwrite each other.</summary>
    public int Version { get; set; }

    /// <summary>What the watch knows of it.</summary>
    public PlannedTaking ToTaking() => new(Id.Value, From, Due, Grabs, LitresPerGrab, PlannedAt) { DismissedAt = DismissedAt };
}

internal sealed class SamplePlanConfiguration : IEntityTypeConfiguration<SamplePlan>
{
    public void Configure(EntityTypeBuilder<SamplePlan> builder)
    {
        builder.ToTable("sample_plans");
        builder.Property(plan => plan.Id).ValueGeneratedOnAdd();
        builder.Property(plan => plan.PlannedBy).HasMaxLength(120);
        builder.Property(plan => plan.ChangedBy).HasMaxLength(120);
        builder.Property(plan => plan.DismissedBy).HasMaxLength(120);
        builder.Property(plan => plan.DismissedFor).HasMaxLength(500);
        builder.Property(plan => plan.Version).IsConcurrencyToken();
        builder.HasOne<Station>().WithMany().HasForeignKey(plan => plan.StationId).OnDelete(DeleteBehavior.Restrict);

        // Serves the watch, and the plans of a station.
        builder.HasIndex(plan => new { plan.StationId, plan.Due });
    }
}
