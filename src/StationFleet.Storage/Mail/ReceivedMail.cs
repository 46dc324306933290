using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Service;

namespace StationFleet.Storage.Mail;

/// <summary>What a message that came in was; names are stored and must not change.</summary>
public enum ReceivedKind
{
    /// <summary>Its recipient took tickets with it.</summary>
    Took,

    /// <summary>It became a note.</summary>
    Noted,

    /// <summary>It wanted to take a ticket that was gone; what was written became a note.</summary>
    TooLate,

    /// <summary>A mail server says that a mail could not be delivered.</summary>
    Bounce,

    /// <summary>A mail server says that a mail is late, or was delivered.</summary>
    DeliveryNote,

    /// <summary>A machine wrote it, such as an out-of-office answer.</summary>
    Automatic,

    /// <summary>It answers none of our mails.</summary>
    Stranger,

    /// <summary>Nothing was written in it.</summary>
    Empty,

    /// <summary>Its text is too large.</summary>
    TooLarge,

    /// <summary>It came before, under another number.</summary>
    Again,

    /// <summary>It cannot be read.</summary>
    Unreadable,
}

/// <summary>A message that came into the mailbox, written in the transaction of what it did: it is handled once.</summary>
public sealed class ReceivedMail
{
    public int Id { get; init; }

    /// <summary>The mailbox's folder and its UIDVALIDITY (RFC 3501 §2.3.1.1), such as <c>INBOX/1719000000</c>.</summary>
    public required string Mailbox { get; init; }

    /// <summary>The message's number there.</summary>
    public long Uid { get; init; }

    /// <summary>Its Message-ID, or a digest of its headers when it has none; known even when the mailbox was made anew.</summary>
    public required string Identity { get; init; }

    public DateTimeOffset At { get; init; }

    /// <summary>The sender's address, as written; may be anybody's.</summary>
    public required string From { get; init; }

    public required string Subject { get; init; }

    public ReceivedKind Kind { get; init; }

    /// <summary>The mail that it answers or bounces; null: none of ours.</summary>
    public int? MailId { get; init; }

    /// <summary>The ticket that it did something to; null: none.</summary>
    public TicketId? TicketId { get; init; }

    /// <summary>For a bounce, the words of the server that refused.</summary>
    public string? Words { get; init; }
}

internal sealed class ReceivedMailConfiguration : IEntityTypeConfiguration<ReceivedMail>
{
    public void Configure(EntityTypeBuilder<ReceivedMail> builder)
    {
        builder.ToTable("received_mails");
        builder.HasOne<OutgoingMail>().WithMany().HasForeignKey(mail => mail.MailId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Ticket>().WithMany().HasForeignKey(mail => mail.TicketId).OnDelete(DeleteBehavior.Restrict);

        // Each message is handled once; the newest number is where the next look begins.
        builder.HasIndex(mail => new { mail.Mailbox, mail.Uid }).IsUnique();
        builder.HasIndex(mail => mail.Identity);
        builder.HasIndex(mail => mail.At);
    }
}
