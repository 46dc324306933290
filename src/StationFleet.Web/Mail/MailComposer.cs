using System.Diagnostics.CodeAnalysis;
using Microsoft.Extensions.Options;
using MimeKit;
using MimeKit.Text;
using StationFleet.Storage.Mail;
using StationFleet.Web.Mail.Replies;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>Makes the message of a stored mail; the same mail always gives the same message.</summary>
internal sealed class MailComposer(IOptions<MailOptions> options, IOptions<ImapOptions> imap, IOptions<FleetOptions> fleet)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Composed(MimeMessage Message, MailboxAddress EnvelopeFrom, MailboxAddress To) : Outcome;

        /// <summary>Something in the mail must not go into a header.</summary>
        internal sealed record Refused(string Reason) : Outcome;
    }

    public Outcome Compose(OutgoingMail mail)
    {
        // A line break in a header value would start a header of somebody else's choosing.
        foreach ((string name, string? value) in new[]
        {
            ("subject", mail.Subject), ("recipient", mail.To), ("Message-ID", mail.MessageId), ("thread", mail.ThreadId),
            ("answered mail", mail.Answers), ("address to unsubscribe", mail.UnsubscribeUrl),
        })
        {
            if (value is not null && value.Any(char.IsControl))
            {
                return new Outcome.Refused($"Not sent: the {name} holds a line break or another control character.");
            }
        }

        if (!TryParseAddress(mail.To, out MailboxAddress? to))
        {
            return new Outcome.Refused("Not sent: the recipient is not one e-mail address.");
        }

        MailOptions settings = options.Value;
        MailboxAddress from = new(settings.FromName.Length > 0 ? settings.FromName : fleet.Value.Organization, settings.Sender);
        MimeMessage message = new()
        {
            MessageId = mail.MessageId,
            Subject = mail.Subject,
            Date = TimeZoneInfo.ConvertTime(mail.Created, fleet.Value.Zone),
            // The text is complete by itself and comes first; the last alternative is the preferred one (RFC 2046 §5.1.4).
            Body = new MultipartAlternative(
                new TextPart(TextFormat.Plain) { Text = mail.Text }, new TextPart(TextFormat.Html) { Text = mail.Html }),
        };
        message.From.Add(from);
        message.To.Add(to);
        Thread(message, mail);
        if (mail.ReplyToken is { } token && imap.Value.IsUsed)
        {
            message.ReplyTo.Add(new MailboxAddress(from.Name, imap.Value.AddressFor(token)));
        }

        // RFC 3834 §5: no out-of-office answers to this.
        message.Headers.Add(HeaderId.AutoSubmitted, mail.Answers is null ? "auto-generated" : "auto-replied");
        if (mail.UnsubscribeUrl is { } url)
        {
            message.Headers.Add(HeaderId.ListUnsubscribe, $"<{url}>");
            if (url.StartsWith("https:", StringComparison.OrdinalIgnoreCase))
            {
                // RFC 8058 §3.1: only with an HTTPS address.
                message.Headers.Add(HeaderId.ListUnsubscribePost, "List-Unsubscribe=One-Click");
            }
        }

        MailboxAddress envelope = settings.EnvelopeFrom.Length > 0 ? new MailboxAddress("", settings.EnvelopeFrom) : from;
        return new Outcome.Composed(message, envelope, to);
    }

    // RFC 5322 §3.6.4: the thread's first mail, then the one that this answers.
    private static void Thread(MimeMessage message, OutgoingMail mail)
    {
        if (mail.ThreadId is { } thread && thread != mail.MessageId)
        {
            message.References.Add(thread);
            message.InReplyTo = thread;
        }

        if (mail.Answers is { } answered && answered != mail.ThreadId)
        {
            message.References.Add(answered);
            message.InReplyTo = answered;
        }
    }

    internal static bool IsPlainAddress(string address) => TryParseAddress(address, out _);

    private static bool TryParseAddress(string text, [NotNullWhen(true)] out MailboxAddress? address) =>
        MailboxAddress.TryParse(text, out address) && address.Domain.Length > 0 && address.LocalPart.Length > 0
            && string.Equals(address.Address, text.Trim(), StringComparison.Ordinal);
}
