using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Sampling;

/// <summary>
/// One jar: one independent grab from a tank, a field blank, or the pieces picked out. Grabs of the same tank water are the
/// replicates; aliquots of one grab are not. Which water it stands for follows from the station's pump-outs.
/// </summary>
public sealed class Sample
{
    public SampleId Id { get; init; }

    /// <summary>What stands on the jar.</summary>
    public required string Code { get; init; }

    public StationId StationId { get; init; }

    /// <summary>Where the station stood; null in transit.</summary>
    public AccessId? AccessId { get; init; }

    public SampleKind Kind { get; init; }

    /// <summary>What was taken with one form: a blank vouches for the grabs of its taking.</summary>
    public required string TakingKey { get; init; }

    public DateTimeOffset TakenAt { get; set; }

    public required string TakenBy { get; set; }

    /// <summary>Tank water in the grab, or clean water in the blank [L]; null for pieces.</summary>
    public double? Litres { get; set; }

    /// <summary>The mesh that it was poured through [µm]; null when it was not filtered.</summary>
    public double? MeshUm { get; set; }

    public double? WaterTempC { get; set; }

    /// <summary>What was left in the tank after the emptying before, as the person judged [L].</summary>
    public double? LeftLitres { get; set; }

    /// <summary>What the mesh was rinsed with [mL].</summary>
    public double? RinseMl { get; set; }

    /// <summary>The volume to which it was concentrated, rinse included [mL].</summary>
    public double? ConcentrateMl { get; set; }

    public Preservation Preservation { get; set; }

    public string? Note { get; set; }

    /// <summary>Counts changes, so that two people acting at once do not overwrite each other.</summary>
    public int Version { get; set; }
}

internal sealed class SampleConfiguration : IEntityTypeConfiguration<Sample>
{
    public void Configure(EntityTypeBuilder<Sample> builder)
    {
        builder.ToTable("samples");
        builder.Property(sample => sample.Id).ValueGeneratedOnAdd();
        builder.Property(sample => sample.Code).HasMaxLength(60);
        builder.Property(sample => sample.TakingKey).HasMaxLength(80);
        builder.Property(sample => sample.TakenBy).HasMaxLength(120);
        builder.Property(sample => sample.Note).HasMaxLength(2000);
        builder.Property(sample => sample.Version).IsConcurrencyToken();
        builder.HasOne<Station>().WithMany().HasForeignKey(sample => sample.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Access>().WithMany().HasForeignKey(sample => sample.AccessId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(sample => sample.Code).IsUnique();

        // Serves "was this form sent before?" and the blanks of a taking.
        builder.HasIndex(sample => sample.TakingKey);

        // Serves the log and the samples of one tank's water.
        builder.HasIndex(sample => new { sample.StationId, sample.TakenAt });
    }
}
