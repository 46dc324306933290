using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Sampling;

/// <summary>A kind of organism that an agency looks for.</summary>
public sealed class Taxon
{
    public TaxonId Id { get; init; }

    public AgencyId AgencyId { get; init; }

    /// <summary>What people call it.</summary>
    public required string Name { get; set; }

    public required string ScientificName { get; set; }

    /// <summary>The rank of the scientific name, such as species.</summary>
    public required string Rank { get; set; }

    public required string Kingdom { get; set; }

    public CountedAs CountedAs { get; set; }

    /// <summary>The stages that are told apart when it is counted; at least one.</summary>
    public IReadOnlyList<LifeStage> Stages { get; set; } = [LifeStage.Any];

    /// <summary>The key that counts it at the bench, a lower-case letter; with Shift its second stage. Empty for pieces.</summary>
    public string Key { get; set; } = "";

    /// <summary>No longer looked for; what was counted stays.</summary>
    public bool IsRetired { get; set; }
}

internal sealed class TaxonConfiguration : IEntityTypeConfiguration<Taxon>
{
    private static readonly JsonSerializerOptions Json = new() { Converters = { new JsonStringEnumConverter() } };

    public void Configure(EntityTypeBuilder<Taxon> builder)
    {
        builder.ToTable("taxa");
        builder.Property(taxon => taxon.Id).ValueGeneratedOnAdd();
        builder.Property(taxon => taxon.Name).HasMaxLength(120);
        builder.Property(taxon => taxon.ScientificName).HasMaxLength(120);
        builder.Property(taxon => taxon.Key).HasMaxLength(1);
        builder.Property(taxon => taxon.Stages).HasConversion(
            stages => JsonSerializer.Serialize(stages, Json),
            json => JsonSerializer.Deserialize<LifeStage[]>(json, Json)!,
            new ValueComparer<IReadOnlyList<LifeStage>>(
                (one, other) => one!.SequenceEqual(other!), stages => stages.Count, stages => stages.ToArray()));
        builder.HasOne<Agency>().WithMany().HasForeignKey(taxon => taxon.AgencyId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(taxon => new { taxon.AgencyId, taxon.ScientificName }).IsUnique();
    }
}

/// <summary>A taxon that is known to live in a water; every other find of it there is new.</summary>
public sealed class KnownTaxon
{
    public int Id { get; init; }

    public TaxonId TaxonId { get; init; }

    /// <summary>The water, as accesses name it.</summary>
    public required string Water { get; init; }

    /// <summary>The local day since when it is known from there.</summary>
    public DateOnly Since { get; set; }

    /// <summary>Who says so.</summary>
    public required string Basis { get; set; }
}

internal sealed class KnownTaxonConfiguration : IEntityTypeConfiguration<KnownTaxon>
{
    public void Configure(EntityTypeBuilder<KnownTaxon> builder)
    {
        builder.ToTable("known_taxa");
        builder.Property(known => known.Water).HasMaxLength(120);
        builder.Property(known => known.Basis).HasMaxLength(200);
        builder.HasOne<Taxon>().WithMany().HasForeignKey(known => known.TaxonId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(known => new { known.TaxonId, known.Water }).IsUnique();
    }
}
