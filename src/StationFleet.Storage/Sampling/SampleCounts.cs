using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Sampling;

namespace StationFleet.Storage.Sampling;

/// <summary>A part of one sample's concentrate that one person looked through.</summary>
public sealed class SampleAliquot
{
    public int Id { get; init; }

    public SampleId SampleId { get; init; }

    /// <summary>Which one of its sample, from 1 on.</summary>
    public int Number { get; init; }

    /// <summary>How much was looked through [mL].</summary>
    public double ExaminedMl { get; set; }

    public required string CountedBy { get; init; }

    public DateTimeOffset CountedAt { get; init; }

    /// <summary>The aliquot that another person counts again here, for quality control; null for a first count.</summary>
    public int? RecountOf { get; init; }

    /// <summary>The form's own key: the same form sent twice is one aliquot.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class SampleAliquotConfiguration : IEntityTypeConfiguration<SampleAliquot>
{
    public void Configure(EntityTypeBuilder<SampleAliquot> builder)
    {
        builder.ToTable("sample_aliquots");
        builder.Property(aliquot => aliquot.CountedBy).HasMaxLength(120);
        builder.HasOne<Sample>().WithMany().HasForeignKey(aliquot => aliquot.SampleId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(aliquot => new { aliquot.SampleId, aliquot.Number }).IsUnique();
        builder.HasIndex(aliquot => aliquot.IdempotencyKey).IsUnique();
    }
}

/// <summary>How many of one taxon and stage an aliquot held; a zero says that it was looked for.</summary>
public sealed class AliquotCount
{
    public int Id { get; init; }

    public int AliquotId { get; init; }

    public TaxonId TaxonId { get; init; }

    public LifeStage Stage { get; init; }

    public int Count { get; set; }

    public required string IdentifiedBy { get; set; }

    public Confidence Confidence { get; set; }
}

internal sealed class AliquotCountConfiguration : IEntityTypeConfiguration<AliquotCount>
{
    public void Configure(EntityTypeBuilder<AliquotCount> builder)
    {
        builder.ToTable("aliquot_counts");
        builder.Property(count => count.IdentifiedBy).HasMaxLength(120);
        builder.HasOne<SampleAliquot>().WithMany().HasForeignKey(count => count.AliquotId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Taxon>().WithMany().HasForeignKey(count => count.TaxonId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(count => new { count.AliquotId, count.TaxonId, count.Stage }).IsUnique();
    }
}

/// <summary>Plants or snails of one kind, picked out by eye.</summary>
public sealed class PieceFind
{
    public int Id { get; init; }

    public SampleId SampleId { get; init; }

    public TaxonId TaxonId { get; init; }

    /// <summary>False says that it was looked for and not there.</summary>
    public bool IsPresent { get; set; }

    /// <summary>Fragments of a plant, or snails; null when not counted.</summary>
    public int? Pieces { get; set; }

    /// <summary>Wet weight after draining [g]; null when not weighed.</summary>
    public double? WeightG { get; set; }

    public required string IdentifiedBy { get; set; }

    public Confidence Confidence { get; set; }
}

internal sealed class PieceFindConfiguration : IEntityTypeConfiguration<PieceFind>
{
    public void Configure(EntityTypeBuilder<PieceFind> builder)
    {
        builder.ToTable("piece_finds");
        builder.Property(find => find.IdentifiedBy).HasMaxLength(120);
        builder.HasOne<Sample>().WithMany().HasForeignKey(find => find.SampleId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Taxon>().WithMany().HasForeignKey(find => find.TaxonId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(find => new { find.SampleId, find.TaxonId }).IsUnique();
    }
}
