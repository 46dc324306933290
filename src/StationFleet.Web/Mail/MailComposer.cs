using System.Diagnostics.CodeAnalysis;
using Microsoft.Extensions.Options;
using MimeKit;
using MimeKit.Text;
using StationFleet.Storage.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>Makes the message of a stored mail; the same mail always gives the same message.</summary>
internal sealed class MailComposer(IOptions<MailOptions> options, IOptions<FleetOptions> fleet)
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
        if (mail.ThreadId is { } thread && thread != mail.MessageId)
        {
            message.InReplyTo = thread;
            message.References.Add(thread);
        }

        // RFC 3834: no out-of-office answers to this.
        message.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        MailboxAddress envelope = settings.EnvelopeFrom.Length > 0 ? new MailboxAddress("", settings.EnvelopeFrom) : from;
        return new Outcome.Composed(message, envelope, to);
    }

    internal static bool IsPlainAddress(string address) => TryParseAddress(address, out _);

    private static bool TryParseAddress(string text, [NotNullWhen(true)] out MailboxAddress? address) =>
        MailboxAddress.TryParse(text, out address) && address.Domain.Length > 0 && address.LocalPart.Length > 0
            && string.Equals(address.Address, text.Trim(), StringComparison.Ordinal);
}
