using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Boaters;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Boaters;

/// <summary>What a boater told us through the public page. Nothing of the boater is kept.</summary>
public sealed class PublicReport
{
    public const int LongestWords = 500;

    public int Id { get; init; }

    public DateTimeOffset At { get; init; }

    public AccessId AccessId { get; init; }

    public StationId StationId { get; init; }

    /// <summary>The tool's slug; empty speaks of the whole station.</summary>
    public required string Part { get; init; }

    public Trouble Trouble { get; init; }

    /// <summary>The boater's own words; may be empty.</summary>
    public required string Words { get; init; }

    public PublicReportState State { get; set; }

    /// <summary>The ticket that it was noted on or became.</summary>
    public TicketId? TicketId { get; set; }

    /// <summary>Who made a ticket of it or put it aside; null while nobody did.</summary>
    public string? DecidedBy { get; set; }

    public DateTimeOffset? DecidedAt { get; set; }

    /// <summary>The form's own key: the same form sent twice is one report.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class PublicReportConfiguration : IEntityTypeConfiguration<PublicReport>
{
    public void Configure(EntityTypeBuilder<PublicReport> builder)
    {
        builder.ToTable("public_reports");
        builder.Property(report => report.Part).HasMaxLength(40);
        builder.Property(report => report.Words).HasMaxLength(PublicReport.LongestWords);
        builder.Property(report => report.DecidedBy).HasMaxLength(120);
        builder.HasOne<Access>().WithMany().HasForeignKey(report => report.AccessId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Station>().WithMany().HasForeignKey(report => report.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(report => report.TicketId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(report => report.IdempotencyKey).IsUnique();

        // Serves the list of those that wait.
        builder.HasIndex(report => new { report.State, report.At });
    }
}
