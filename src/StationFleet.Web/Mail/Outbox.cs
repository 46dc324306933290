using System.Security.Cryptography;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Mail;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Mail.Replies;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>Puts mails into the outbox, in the transaction of what they tell; <see cref="SendMail"/> sends them.</summary>
internal sealed class Outbox(
    IOptions<FleetOptions> fleet, IOptions<MailOptions> mail, IOptions<ImapOptions> imap, FleetPaths paths, IConfiguration configuration)
{
    private const string TokenLetters = "abcdefghijklmnopqrstuvwxyz234567";
    private const int TokenLength = 26; // 130 bits

    /// <summary>A mail to one person.</summary>
    /// <param name="Key">What it tells, to whom: the same is never told twice.</param>
    /// <param name="Kind">The beginning of its Message-ID.</param>
    /// <param name="PersonId">The recipient.</param>
    /// <param name="To">The recipient's address.</param>
    /// <param name="Text">What it says.</param>
    /// <param name="Now">The present instant.</param>
    internal sealed record Draft(string Key, string Kind, string PersonId, string To, MailText Text, DateTimeOffset Now)
    {
        /// <summary>The first mail of its thread.</summary>
        public string? ThreadId { get; init; }

        public TicketId? TicketId { get; init; }

        /// <summary>Whether an answer to it does something.</summary>
        public bool IsAnswerable { get; init; }

        public string? UnsubscribeUrl { get; init; }

        /// <summary>The mail that it answers.</summary>
        public string? Answers { get; init; }
    }

    public MailVoice Voice => new(fleet.Value.Organization, paths.IsDemo, imap.Value.IsUsed);

    /// <summary>A page's address for people who read it in a mail.</summary>
    /// <param name="path">The page, from its first slash.</param>
    public string Url(string path) => BaseUrl().TrimEnd('/') + path;

    /// <summary>The subject of a mail in the thread of another.</summary>
    public static string Reply(string subject) => subject.StartsWith("Re: ", StringComparison.OrdinalIgnoreCase) ? subject : $"Re: {subject}";

    public OutgoingMail Write(FleetDbContext db, Draft draft)
    {
        OutgoingMail written = new()
        {
            Key = draft.Key,
            MessageId = $"{draft.Kind}.{Guid.NewGuid():N}@{mail.Value.MessageIdDomain}",
            ThreadId = draft.ThreadId,
            TicketId = draft.TicketId,
            PersonId = draft.PersonId,
            To = draft.To,
            Subject = draft.Text.Subject,
            Text = draft.Text.Text,
            Html = draft.Text.Html,
            Created = draft.Now,
            State = MailState.Waiting,
            NextAt = draft.Now,
            ReplyToken = draft.IsAnswerable && imap.Value.IsUsed ? RandomNumberGenerator.GetString(TokenLetters, TokenLength) : null,
            UnsubscribeUrl = draft.UnsubscribeUrl,
            Answers = draft.Answers,
        };
        db.Add(written);
        return written;
    }

    private string BaseUrl() => fleet.Value.PublicUrl is { Length: > 0 } url
        ? url
        : configuration[WebHostDefaults.ServerUrlsKey]?.Split(';')[0] is { Length: > 0 } listening ? listening : "http://localhost:5080";
}
