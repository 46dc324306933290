using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
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
}

internal sealed class ServiceVisitConfiguration : IEntityTypeConfiguration<ServiceVisit>
{
    public void Configure(EntityTypeBuilder<ServiceVisit> builder)
    {
        builder.ToTable("service_visits");
        builder.Property(visit => visit.Note).HasMaxLength(4000);
        builder.HasOne<Station>().WithMany().HasForeignKey(visit => visit.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(visit => visit.TicketId).OnDelete(DeleteBehavior.Restrict);

        // Serves a station's timeline.
        builder.HasIndex(visit => new { visit.StationId, visit.At });
    }
}

/// <summary>Where the knowledge of a pump-out comes from.</summary>
public enum PumpOutSource
{
    /// <summary>The fill fell, as the station's own sensor saw it.</summary>
    Telemetry,

    /// <summary>A person wrote it down.</summary>
    Visit,
}

/// <summary>One emptying of a waste tank.</summary>
public sealed class PumpOut
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset At { get; init; }

    public double Litres { get; init; }

    public PumpOutSource Source { get; init; }

    public int? VisitId { get; init; }
}

internal sealed class PumpOutConfiguration : IEntityTypeConfiguration<PumpOut>
{
    public void Configure(EntityTypeBuilder<PumpOut> builder)
    {
        builder.ToTable("pump_outs");
        builder.HasOne<Station>().WithMany().HasForeignKey(pumpOut => pumpOut.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<ServiceVisit>().WithMany().HasForeignKey(pumpOut => pumpOut.VisitId).OnDelete(DeleteBehavior.Restrict);

        // The same emptying is not seen twice by the sensor; also serves a season's pump-outs.
        builder.HasIndex(pumpOut => new { pumpOut.StationId, pumpOut.At, pumpOut.Source }).IsUnique();
    }
}
