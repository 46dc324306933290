using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Mail.Replies;

namespace StationFleet.Web.Mail;

/// <summary>A mail in the list; public, since the page keeps it between prerendering and its circuit.</summary>
public sealed record MailRow(
    int Id, string To, string Subject, MailState State, DateTimeOffset Created, DateTimeOffset? Sent, DateTimeOffset NextAt,
    int Attempts, string? LastReply, DateTimeOffset? Bounced);

/// <summary>A message that came in.</summary>
/// <param name="Ticket">The number of the ticket that it did something to; null: none.</param>
public sealed record ReceivedRow(int Id, string From, string Subject, ReceivedKind Kind, DateTimeOffset At, int? Ticket, string? Words);

/// <summary>What the page Mail shows.</summary>
/// <param name="Unsent">Waiting and dead ones, and those that came back, newest first.</param>
/// <param name="Received">What came into the mailbox, newest first.</param>
/// <param name="MailboxTrouble">Why the mailbox could not be read; null when it could, or is not to be.</param>
public sealed record MailsShown(
    IReadOnlyList<MailRow> Unsent, IReadOnlyList<MailRow> Sent, IReadOnlyList<ReceivedRow> Received, int Waiting, int Dead, int SentInAll,
    string? MailboxTrouble);

/// <summary>The mails of the page Mail: what waits and what failed first, then the newest that were sent.</summary>
internal sealed class ListMails(IDbContextFactory<FleetDbContext> databases, MailboxNews news)
{
    private const int MostShown = 200;
    private const int MostReceived = 100;

    public async Task<MailsShown> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<OutgoingMail> mails = db.MailsVisibleTo(viewer);
        Dictionary<MailState, int> counts = await mails.GroupBy(mail => mail.State)
            .Select(group => new { group.Key, Count = group.Count() })
            .ToDictionaryAsync(group => group.Key, group => group.Count, cancel);
        List<MailRow> unsent = await Rows(mails.Where(mail => mail.State != MailState.Sent || mail.Bounced != null)).ToListAsync(cancel);
        List<MailRow> sent = await Rows(mails.Where(mail => mail.State == MailState.Sent && mail.Bounced == null)).ToListAsync(cancel);
        int bounced = await mails.CountAsync(mail => mail.State == MailState.Sent && mail.Bounced != null, cancel);
        return new MailsShown(
            unsent,
            sent,
            await ReceivedAsync(db, viewer, mails, cancel),
            counts.GetValueOrDefault(MailState.Waiting) + counts.GetValueOrDefault(MailState.Sending),
            counts.GetValueOrDefault(MailState.Dead) + bounced,
            counts.GetValueOrDefault(MailState.Sent) - bounced,
            news.Last?.Trouble);
    }

    private static Task<List<ReceivedRow>> ReceivedAsync(
        FleetDbContext db, Viewer viewer, IQueryable<OutgoingMail> mails, CancellationToken cancel) => db.ReceivedMails
        .Where(row => viewer.Agency == null || mails.Any(mail => mail.Id == row.MailId))
        .OrderByDescending(row => row.Id)
        .Take(MostReceived)
        .Select(row => new ReceivedRow(
            row.Id, row.From, row.Subject, row.Kind, row.At,
            db.Tickets.Where(ticket => ticket.Id == row.TicketId).Select(ticket => (int?)ticket.Number).FirstOrDefault(), row.Words))
        .ToListAsync(cancel);

    private static IQueryable<MailRow> Rows(IQueryable<OutgoingMail> mails) => mails
        .OrderByDescending(mail => mail.Created).ThenByDescending(mail => mail.Id)
        .Take(MostShown)
        .Select(mail => new MailRow(
            mail.Id, mail.To, mail.Subject, mail.State, mail.Created, mail.Sent, mail.NextAt, mail.Attempts, mail.LastReply,
            mail.Bounced));
}
