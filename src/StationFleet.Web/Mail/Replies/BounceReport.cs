using MimeKit;

namespace StationFleet.Web.Mail.Replies;

/// <summary>What a mail server reports of a mail that it took before (RFC 3464).</summary>
/// <param name="IsFailure">Whether it will not be delivered.</param>
/// <param name="MailId">The Message-ID of that mail; null when the report does not hold it.</param>
/// <param name="Words">Recipient, status and the refusing server's words, in one line.</param>
internal sealed record BounceReport(bool IsFailure, string? MailId, string Words)
{
    private const int LongestWords = 400;

    /// <summary>Reads a report; null when the message is none.</summary>
    public static BounceReport? Of(MimeMessage message)
    {
        if (message.Body is not MultipartReport report
            || !string.Equals(report.ReportType, "delivery-status", StringComparison.OrdinalIgnoreCase)
            || report.OfType<MessageDeliveryStatus>().FirstOrDefault() is not { } status)
        {
            return null;
        }

        // The first group is about the message, each other one about a recipient (§2.1); ours have one.
        HeaderList? group = status.StatusGroups.Skip(1).FirstOrDefault(group => group["Action"] is not null) ?? status.StatusGroups.FirstOrDefault();
        string action = group?["Action"]?.Trim() ?? "";
        string words = string.Join(' ', new[] { Typeless(group?["Final-Recipient"]), group?["Status"], Typeless(group?["Diagnostic-Code"]) }
            .OfType<string>().Select(part => part.Trim()).Where(part => part.Length > 0));
        string line = string.Concat(words.Select(c => char.IsControl(c) ? ' ' : c));
        return new BounceReport(
            action.Equals("failed", StringComparison.OrdinalIgnoreCase),
            IdOf(report),
            line.Length <= LongestWords ? line : line[..LongestWords]);
    }

    private static string? IdOf(MultipartReport report) => report
        .Select(part => part switch
        {
            TextRfc822Headers { Message: { } headers } => headers.MessageId,
            MessagePart { Message: { } original } => original.MessageId,
            _ => null,
        })
        .FirstOrDefault(id => id is not null);

    // «rfc822; name@example.org» and «smtp; 550 …» say first what kind of text follows.
    private static string? Typeless(string? field) => field is null ? null : field[(field.IndexOf(';') + 1)..];
}
