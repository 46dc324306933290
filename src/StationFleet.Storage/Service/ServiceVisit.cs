using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Service;

/// <summary>A person at a station, and what was done.</summary>
public sealed class ServiceVisit
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public TicketId? TicketId { get; init; }

    public required string Who { get; init; }

    /// <summary>When the work was done.</summary>
    public DateTimeOffset At { get; init; }

    public int? Minutes { get; init; }

    public string? Note { get; init; }

    /// <summary>Whose hours it took; null when nobody said.</summary>
    public HoursKind? Hours { get; init; }

    /// <summary>The award that it is done for; null when nobody said.</summary>
    public string? Award { get; init; }
}

internal sealed class ServiceVisitConfiguration : IEntityTypeConfiguration<ServiceVisit>
{
    public void Configure(EntityTypeBuilder<ServiceVisit> builder)
    {
        builder.ToTable("service_visits");
        builder.Property(visit => visit.Note).HasMaxLength(4000);
        builder.Property(visit => visit.Award).HasMaxLength(60);
        builder.HasOne<Station>().WithMany().HasForeignKey(visit => visit.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(visit => visit.TicketId).OnDelete(DeleteBehavior.Restrict);

        // Serves a station's timeline.
        builder.HasIndex(visit => new { visit.StationId, visit.At });
    }
}
