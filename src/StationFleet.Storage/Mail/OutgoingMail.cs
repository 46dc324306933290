using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Mail;

/// <summary>Where a mail stands.</summary>
public enum MailState
{
    /// <summary>Waits for its next try.</summary>
    Waiting,

    /// <summary>A try is under way, until its lease ends.</summary>
    Sending,

    /// <summary>The server took it.</summary>
    Sent,

    /// <summary>The server refused it for good.</summary>
    Dead,
}

/// <summary>A mail to one person, written in the transaction of what it tells; only sent mail keeps text.</summary>
public sealed class OutgoingMail
{
    public int Id { get; init; }

    /// <summary>What it tells, to whom: the same thing is never told twice.</summary>
    public required string Key { get; init; }

    /// <summary>Fixed before the first try and kept through all of them; without angle brackets.</summary>
    public required string MessageId { get; init; }

    /// <summary>The first mail of the thread; null when this is it.</summary>
    public string? ThreadId { get; init; }

    public TicketId? TicketId { get; init; }

    public required string To { get; init; }

    public required string Subject { get; init; }

    public required string Text { get; init; }

    public required string Html { get; init; }

    /// <summary>When it was written, by the fleet's clock.</summary>
    public DateTimeOffset Created { get; init; }

    public MailState State { get; set; }

    public int Attempts { get; set; }

    /// <summary>Not before this instant; while sending, when the lease ends.</summary>
    public DateTimeOffset NextAt { get; set; }

    /// <summary>The server's last words.</summary>
    public string? LastReply { get; set; }

    public DateTimeOffset? Sent { get; set; }

    /// <summary>The account of its recipient; null when it went to an address alone.</summary>
    public string? PersonId { get; init; }

    /// <summary>What the answer's address holds, so that the answer finds its recipient and tickets; null: answers go to the sender.</summary>
    public string? ReplyToken { get; init; }

    /// <summary>Where the recipient ends mails of this kind; null for mails that are not sent by the calendar.</summary>
    public string? UnsubscribeUrl { get; init; }

    /// <summary>The mail that it answers, if it is an answer (RFC 3834 calls it auto-replied); without angle brackets.</summary>
    public string? Answers { get; init; }

    /// <summary>When a mail server reported that it could not be delivered after all.</summary>
    public DateTimeOffset? Bounced { get; set; }
}

internal sealed class OutgoingMailConfiguration : IEntityTypeConfiguration<OutgoingMail>
{
    public void Configure(EntityTypeBuilder<OutgoingMail> builder)
    {
        builder.ToTable("outgoing_mails");
        builder.HasOne<Ticket>().WithMany().HasForeignKey(mail => mail.TicketId).OnDelete(DeleteBehavior.Restrict);

        builder.HasOne<FleetUser>().WithMany().HasForeignKey(mail => mail.PersonId).OnDelete(DeleteBehavior.SetNull);

        // One mail per event and person.
        builder.HasIndex(mail => mail.Key).IsUnique();
        builder.HasIndex(mail => mail.MessageId).IsUnique();
        builder.HasIndex(mail => mail.ReplyToken).IsUnique();

        // Serves "what is due?".
        builder.HasIndex(mail => new { mail.State, mail.NextAt });
    }
}
