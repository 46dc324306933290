using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Mail;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;

namespace StationFleet.Storage.Service;

/// <summary>A person was told of a ticket. What is still to tell follows from the tickets and these rows alone, so a restart changes nothing.</summary>
public sealed class TicketCall
{
    public int Id { get; init; }

    public TicketId TicketId { get; init; }

    /// <summary>The raising or reopening that it is about.</summary>
    public int EventId { get; init; }

    public required string PersonId { get; init; }

    public CallReason Reason { get; init; }

    public DateTimeOffset At { get; init; }

    /// <summary>The mail; it may be about other tickets too.</summary>
    public int MailId { get; init; }
}

internal sealed class TicketCallConfiguration : IEntityTypeConfiguration<TicketCall>
{
    public void Configure(EntityTypeBuilder<TicketCall> builder)
    {
        builder.ToTable("ticket_calls");
        builder.HasOne<Ticket>().WithMany().HasForeignKey(call => call.TicketId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<TicketEvent>().WithMany().HasForeignKey(call => call.EventId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(call => call.PersonId).OnDelete(DeleteBehavior.Cascade);
        builder.HasOne<OutgoingMail>().WithMany().HasForeignKey(call => call.MailId).OnDelete(DeleteBehavior.Restrict);

        // One call per event and person.
        builder.HasIndex(call => new { call.EventId, call.PersonId }).IsUnique();

        // Serves "which mails did this person get about this ticket?".
        builder.HasIndex(call => new { call.TicketId, call.PersonId });
    }
}
