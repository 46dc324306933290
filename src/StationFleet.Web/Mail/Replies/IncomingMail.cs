using System.Security.Cryptography;
using System.Text;
using MimeKit;
using MimeKit.Text;
using StationFleet.Storage.Mail;

namespace StationFleet.Web.Mail.Replies;

/// <summary>A message as it lies in the mailbox.</summary>
/// <param name="Mailbox">The folder and its UIDVALIDITY.</param>
/// <param name="Uid">The message's number there.</param>
/// <param name="Message">The message; of a large one its headers and its text only.</param>
/// <param name="NotFetched">Why its text is not there; null when it is.</param>
internal sealed record IncomingMail(string Mailbox, long Uid, MimeMessage Message, ReceivedKind? NotFetched)
{
    // To whom it was written, and to whom servers say that they delivered it.
    private static readonly string[] AddressFields = ["To", "Cc", "Resent-To", "Delivered-To", "X-Original-To", "Envelope-To"];
    private static readonly string[] AutomaticPrecedence = ["bulk", "junk", "list", "auto_reply"];

    public string From => Message.From.Mailboxes.FirstOrDefault()?.Address ?? "";

    /// <summary>The Message-ID, or a digest of the headers: the same message is known again.</summary>
    public string Identity => Message.MessageId is { Length: > 0 and <= 400 } id
        ? id
        : $"sha256:{Hex(string.Join('\n', Message.Headers.Select(header => $"{header.Field}: {header.Value}")))}";

    /// <summary>A key for what it does, made of its identity alone.</summary>
    public string Key => $"mail-{Hex(Identity)[..40]}";

    /// <summary>Whether a machine sent it: RFC 3834 §2 and §5, the null return path of RFC 5321 §4.5.5, and the older Precedence.</summary>
    public bool IsAutomatic =>
        (Header(HeaderId.AutoSubmitted) is { } submitted && !submitted.StartsWith("no", StringComparison.OrdinalIgnoreCase))
        || Header(HeaderId.ReturnPath)?.Replace(" ", "", StringComparison.Ordinal) == "<>"
        || AutomaticPrecedence.Contains(Header(HeaderId.Precedence)?.Trim(), StringComparer.OrdinalIgnoreCase)
        || Message.Headers["X-Autoreply"] is not null || Message.Headers["X-Autorespond"] is not null
        || Message.Headers.Contains(HeaderId.ListId)
        || Message.Body is MultipartReport;

    /// <summary>What the person wrote, as plain text; from the HTML where there is no other.</summary>
    public string Text => Message.TextBody is { } text && !string.IsNullOrWhiteSpace(text) ? text : Plain(Message.HtmlBody ?? "");

    /// <summary>The token of the address that it was sent to; null when it has none.</summary>
    public string? Token(ImapOptions settings)
    {
        int at = settings.Address.LastIndexOf('@');
        (string before, string after) = (settings.Address[..at] + "+", settings.Address[at..]);
        return Message.Headers.Where(header => AddressFields.Contains(header.Field, StringComparer.OrdinalIgnoreCase))
            .SelectMany(header => InternetAddressList.TryParse(header.Value, out InternetAddressList? list) ? list.Mailboxes : [])
            .Select(mailbox => mailbox.Address)
            .Where(address => address.StartsWith(before, StringComparison.OrdinalIgnoreCase) && address.EndsWith(after, StringComparison.OrdinalIgnoreCase))
            .Select(address => address[before.Length..^after.Length].ToLowerInvariant())
            .FirstOrDefault();
    }

    private string? Header(HeaderId id) => Message.Headers[id];

    private static string Hex(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    // Words and line breaks; what is quoted in a blockquote, and what no reader sees, is left out.
    private static string Plain(string html)
    {
        StringBuilder plain = new();
        HtmlTokenizer tokens = new(new StringReader(html)) { DecodeCharacterReferences = true };
        int quoted = 0;
        int unseen = 0;
        while (tokens.ReadNextToken(out HtmlToken? token))
        {
            if (token is HtmlTagToken tag)
            {
                int step = tag.IsEndTag ? -1 : tag.IsEmptyElement ? 0 : 1;
                quoted += tag.Id == HtmlTagId.BlockQuote ? step : 0;
                unseen += tag.Id is HtmlTagId.Style or HtmlTagId.Script or HtmlTagId.Head ? step : 0;
                if (tag.Id is HtmlTagId.Br or HtmlTagId.P or HtmlTagId.Div or HtmlTagId.LI or HtmlTagId.TR)
                {
                    plain.Append('\n');
                }
            }
            else if (token is HtmlDataToken data && quoted <= 0 && unseen <= 0)
            {
                plain.Append(data.Data.ReplaceLineEndings(" ").Replace('\u00A0', ' '));
            }
        }

        return string.Join('\n', plain.ToString().Split('\n').Select(line => line.Trim()));
    }
}
