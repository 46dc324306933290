using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Mail;

/// <summary>A mail in the list; public, since the page keeps it between prerendering and its circuit.</summary>
public sealed record MailRow(
    int Id, string To, string Subject, MailState State, DateTimeOffset Created, DateTimeOffset? Sent, DateTimeOffset NextAt,
    int Attempts, string? LastReply);

/// <summary>What the page Mail shows.</summary>
/// <param name="Unsent">Waiting and dead ones, newest first.</param>
public sealed record MailsShown(IReadOnlyList<MailRow> Unsent, IReadOnlyList<MailRow> Sent, int Waiting, int Dead, int SentInAll);

/// <summary>The mails of the page Mail: what waits and what failed first, then the newest that were sent.</summary>
internal sealed class ListMails(IDbContextFactory<FleetDbContext> databases)
{
    private const int MostShown = 200;

    public async Task<MailsShown> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<OutgoingMail> mails = db.MailsVisibleTo(viewer);
        Dictionary<MailState, int> counts = await mails.GroupBy(mail => mail.State)
            .Select(group => new { group.Key, Count = group.Count() })
            .ToDictionaryAsync(group => group.Key, group => group.Count, cancel);
        List<MailRow> unsent = await Rows(mails.Where(mail => mail.State != MailState.Sent)).ToListAsync(cancel);
        List<MailRow> sent = await Rows(mails.Where(mail => mail.State == MailState.Sent)).ToListAsync(cancel);
        return new MailsShown(
            unsent,
            sent,
            counts.GetValueOrDefault(MailState.Waiting) + counts.GetValueOrDefault(MailState.Sending),
            counts.GetValueOrDefault(MailState.Dead),
            counts.GetValueOrDefault(MailState.Sent));
    }

    private static IQueryable<MailRow> Rows(IQueryable<OutgoingMail> mails) => mails
        .OrderByDescending(mail => mail.Created).ThenByDescending(mail => mail.Id)
        .Take(MostShown)
        .Select(mail => new MailRow(
            mail.Id, mail.To, mail.Subject, mail.State, mail.Created, mail.Sent, mail.NextAt, mail.Attempts, mail.LastReply));
}
