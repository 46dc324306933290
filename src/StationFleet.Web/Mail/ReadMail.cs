using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Mail;

/// <summary>One mail with its text and its HTML.</summary>
internal sealed class ReadMail(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed record Result(
        int Id, string To, string Subject, string Text, string Html, string MessageId, string? ThreadId, MailState State,
        DateTimeOffset Created, DateTimeOffset? Sent, DateTimeOffset NextAt, int Attempts, string? LastReply);

    public async Task<Result?> HandleAsync(int id, Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.MailsVisibleTo(viewer)
            .Where(mail => mail.Id == id)
            .Select(mail => new Result(
                mail.Id, mail.To, mail.Subject, mail.Text, mail.Html, mail.MessageId, mail.ThreadId, mail.State,
                mail.Created, mail.Sent, mail.NextAt, mail.Attempts, mail.LastReply))
            .FirstOrDefaultAsync(cancel);
    }
}
