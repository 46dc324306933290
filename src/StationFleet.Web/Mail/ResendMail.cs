using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>Puts a mail back into the queue, under the same Message-ID; one that was sent only when the person insists.</summary>
internal sealed class ResendMail(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    internal sealed record Command(int Id, Viewer Viewer, bool EvenIfSent);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <summary>It waits, due now, with its tries counted anew.</summary>
        internal sealed record Queued : Outcome;

        /// <summary>The server has taken it: sending again puts a second copy into the mailbox.</summary>
        internal sealed record AlreadySent(DateTimeOffset At) : Outcome;

        /// <summary>It is on its way already.</summary>
        internal sealed record StillWaiting : Outcome;

        internal sealed record NotAllowed : Outcome;

        internal sealed record Unknown : Outcome;
    }

    public static bool MayResend(Viewer viewer) => viewer.Roles.Overlaps([FleetRoles.Biologist, FleetRoles.Administrator]);

    public async Task<Outcome> HandleAsync(Command command, CancellationToken cancel)
    {
        if (!MayResend(command.Viewer))
        {
            return new Outcome.NotAllowed();
        }

        return await databases.WriteAsync(db => QueueAsync(db, command, cancel), cancel);
    }

    private async Task<Outcome> QueueAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        OutgoingMail? mail = await db.MailsVisibleTo(command.Viewer).FirstOrDefaultAsync(row => row.Id == command.Id, cancel);
        switch (mail)
        {
            case null:
                return new Outcome.Unknown();
            case { State: MailState.Waiting or MailState.Sending }:
                return new Outcome.StillWaiting();
            case { State: MailState.Sent, Bounced: null } when !command.EvenIfSent:
                return new Outcome.AlreadySent(mail.Sent ?? mail.Created);
        }

        mail.State = MailState.Waiting;
        mail.Attempts = 0;
        mail.NextAt = clock.GetUtcNow();
        (mail.Sent, mail.Bounced) = (null, null);
        return new Outcome.Queued();
    }
}
