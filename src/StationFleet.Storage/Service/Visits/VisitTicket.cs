using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Service.Visits;

/// <summary>A further ticket that a visit closed, beside the one that it was made for.</summary>
public sealed class VisitTicket
{
    public int VisitId { get; init; }

    public TicketId TicketId { get; init; }
}

internal sealed class VisitTicketConfiguration : IEntityTypeConfiguration<VisitTicket>
{
    public void Configure(EntityTypeBuilder<VisitTicket> builder)
    {
        builder.ToTable("visit_tickets");
        builder.HasKey(pair => new { pair.VisitId, pair.TicketId });
        builder.HasOne<ServiceVisit>().WithMany().HasForeignKey(pair => pair.VisitId).OnDelete(DeleteBehavior.Cascade);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(pair => pair.TicketId).OnDelete(DeleteBehavior.Restrict);
    }
}
