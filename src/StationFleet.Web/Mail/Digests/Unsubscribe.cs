using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Mail.Digests;

/// <summary>Ends a person's mails of one kind, by a signed link.</summary>
internal sealed class Unsubscribe(IDbContextFactory<FleetDbContext> databases, DigestLinks links)
{
    /// <returns>False when the link is not ours, or its person is gone.</returns>
    public async Task<bool> HandleAsync(string token, CancellationToken cancel) =>
        links.Read(token) is var (kind, person) && await databases.WriteAsync(db => EndAsync(db, kind, person, cancel), cancel);

    private static async Task<bool> EndAsync(FleetDbContext db, DigestKind kind, string person, CancellationToken cancel)
    {
        if (!await db.Users.AnyAsync(user => user.Id == person, cancel))
        {
            return false;
        }

        MailChoices choices = await MailChoicesOf.PersonAsync(db, person, cancel);
        (choices.Morning, choices.Weekly) = kind == DigestKind.Morning ? (false, choices.Weekly) : (choices.Morning, (bool?)false);

        // What waits already is not sent any more either.
        string prefix = $"{kind.ToString().ToLowerInvariant()}-";
        await db.OutgoingMails
            .Where(mail => mail.PersonId == person && mail.State == MailState.Waiting && mail.UnsubscribeUrl != null && mail.Key.StartsWith(prefix))
            .ExecuteUpdateAsync(
                set => set.SetProperty(mail => mail.State, MailState.Dead)
                    .SetProperty(mail => mail.LastReply, "Not sent: its recipient ended these mails."),
                cancel);
        return true;
    }
}
