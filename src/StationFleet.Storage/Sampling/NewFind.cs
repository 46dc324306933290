using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Sampling;

/// <summary>A taxon found in tank water, that was not known from the water beside which the tank stands. Where it came from is open.</summary>
public sealed class NewFind
{
    /// <summary>Stands for the water of a station in transit.</summary>
    public const string NoWater = "any water (in transit)";

    public FindId Id { get; init; }

    public TaxonId TaxonId { get; init; }

    public required string Water { get; init; }

    /// <summary>The sample in which it was seen first.</summary>
    public SampleId SampleId { get; init; }

    public TicketId TicketId { get; init; }

    public DateTimeOffset FoundAt { get; init; }

    /// <summary>Until when the agency's rules want it reported; null when they name no time.</summary>
    public DateTimeOffset? Deadline { get; init; }

    public FindState State { get; set; }

    /// <summary>Counts changes, so that two people acting at once do not overwrite each other.</summary>
    public int Version { get; set; }
}

internal sealed class NewFindConfiguration : IEntityTypeConfiguration<NewFind>
{
    public void Configure(EntityTypeBuilder<NewFind> builder)
    {
        builder.ToTable("new_finds");
        builder.Property(find => find.Id).ValueGeneratedOnAdd();
        builder.Property(find => find.Water).HasMaxLength(120);
        builder.Property(find => find.Version).IsConcurrencyToken();
        builder.HasOne<Taxon>().WithMany().HasForeignKey(find => find.TaxonId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Sample>().WithMany().HasForeignKey(find => find.SampleId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(find => find.TicketId).OnDelete(DeleteBehavior.Restrict);

        // One open find for one taxon and water.
        builder.HasIndex(find => new { find.TaxonId, find.Water })
            .IsUnique().HasFilter("\"State\" IN ('Presumptive', 'Confirmed')").HasDatabaseName("IX_new_finds_one_open");
    }
}

/// <summary>A step of a find, or somebody who was told of it.</summary>
public sealed class FindEvent
{
    public int Id { get; init; }

    public FindId FindId { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    /// <summary>The state that it took on; null when somebody was told.</summary>
    public FindState? Became { get; init; }

    /// <summary>Whom, and how; null for a step.</summary>
    public string? Told { get; init; }

    public string? Note { get; init; }
}

internal sealed class FindEventConfiguration : IEntityTypeConfiguration<FindEvent>
{
    public void Configure(EntityTypeBuilder<FindEvent> builder)
    {
        builder.ToTable("find_events");
        builder.Property(happening => happening.Told).HasMaxLength(200);
        builder.Property(happening => happening.Note).HasMaxLength(2000);
        builder.HasOne<NewFind>().WithMany().HasForeignKey(happening => happening.FindId).OnDelete(DeleteBehavior.Restrict);

        // Serves a find's log in order.
        builder.HasIndex(happening => new { happening.FindId, happening.At });
    }
}
