using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Sampling;

namespace StationFleet.Storage.Sampling;

/// <summary>What was done to a sample.</summary>
public enum SampleEventKind
{
    Taken,
    Corrected,
    Counted,
    Recounted,
    HandedOver,
}

/// <summary>One thing that happened to a sample; a correction tells the old value and the new.</summary>
public sealed class SampleEvent
{
    public int Id { get; init; }

    public SampleId SampleId { get; init; }

    public DateTimeOffset At { get; init; }

    public SampleEventKind Kind { get; init; }

    public required string Who { get; init; }

    public required string What { get; init; }
}

internal sealed class SampleEventConfiguration : IEntityTypeConfiguration<SampleEvent>
{
    public void Configure(EntityTypeBuilder<SampleEvent> builder)
    {
        builder.ToTable("sample_events");
        builder.Property(happening => happening.What).HasMaxLength(4000);
        builder.HasOne<Sample>().WithMany().HasForeignKey(happening => happening.SampleId).OnDelete(DeleteBehavior.Restrict);

        // Serves a sample's history in order.
        builder.HasIndex(happening => new { happening.SampleId, happening.At });
    }
}

/// <summary>A sample going from one hand to another.</summary>
public sealed class CustodyStep
{
    public int Id { get; init; }

    public SampleId SampleId { get; init; }

    public DateTimeOffset At { get; init; }

    public required string RelinquishedBy { get; init; }

    public required string ReceivedBy { get; init; }

    /// <summary>The seal's number; null without one.</summary>
    public string? Seal { get; init; }

    public string? Preservative { get; init; }

    public string? Courier { get; init; }

    /// <summary>The laboratory's own number for the sample.</summary>
    public string? LaboratoryNumber { get; init; }

    /// <summary>The local day by which the result is promised.</summary>
    public DateOnly? Promised { get; init; }

    /// <summary>The form's own key: the same form sent twice is one step of each sample.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class CustodyStepConfiguration : IEntityTypeConfiguration<CustodyStep>
{
    public void Configure(EntityTypeBuilder<CustodyStep> builder)
    {
        builder.ToTable("custody_steps");
        builder.Property(step => step.RelinquishedBy).HasMaxLength(120);
        builder.Property(step => step.ReceivedBy).HasMaxLength(120);
        builder.HasOne<Sample>().WithMany().HasForeignKey(step => step.SampleId).OnDelete(DeleteBehavior.Restrict);

        // Serves a sample's custody in order.
        builder.HasIndex(step => new { step.SampleId, step.At });
        builder.HasIndex(step => new { step.IdempotencyKey, step.SampleId }).IsUnique();
    }
}
