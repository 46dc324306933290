using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Mail;

/// <summary>A mail as it was written; public, since a part of the page takes it as a parameter.</summary>
public sealed record MailOpened(MailRow Row, string Text, string Html, string MessageId, string? ThreadId);

/// <summary>One mail with its text and its HTML.</summary>
internal sealed class ReadMail(IDbContextFactory<FleetDbContext> databases)
{
    public async Task<MailOpened?> HandleAsync(int id, Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.MailsVisibleTo(viewer)
            .Where(mail => mail.Id == id)
            .Select(mail => new MailOpened(
                new MailRow(
                    mail.Id, mail.To, mail.Subject, mail.State, mail.Created, mail.Sent, mail.NextAt, mail.Attempts, mail.LastReply,
                    mail.Bounced),
                mail.Text, mail.Html, mail.MessageId, mail.ThreadId))
            .FirstOrDefaultAsync(cancel);
    }
}
