using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>
/// Sends the mails that are due. Each is claimed in a short transaction, sent outside of it, and marked. At least once: when this
/// program dies between the server's yes and the mark, the mail goes again under the same Message-ID.
/// </summary>
internal sealed partial class SendMail(
    IDbContextFactory<FleetDbContext> databases, IMailTransport transport, MailComposer composer, IOptions<MailOptions> options,
    FleetClock clock, ILogger<SendMail> logger)
{
    private const int MostPerRun = 500;

    private int _runs;

    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        await ReturnLeftBehindAsync(cancel);
        Counter counter = new();
        List<Task> lanes = [RunLaneAsync(counter, cancel)];

        // One connection does, until somebody's mail is slow: then the others go past it on another.
        while (lanes.Count < options.Value.MostConnections)
        {
            Task patience = Task.Delay(TimeSpan.FromSeconds(options.Value.SlowAfterSeconds), cancel);
            if (await Task.WhenAny(Task.WhenAll(lanes), patience) != patience)
            {
                break;
            }

            lanes.Add(RunLaneAsync(counter, cancel));
        }

        await Task.WhenAll(lanes);
        return counter.Sent;
    }

    private async Task RunLaneAsync(Counter counter, CancellationToken cancel)
    {
        await using IMailRun run = transport.Begin();
        while (counter.TakeTurn(MostPerRun) && await ClaimAsync(cancel) is { } mail)
        {
            Delivery delivery = composer.Compose(mail) switch
            {
                MailComposer.Outcome.Composed composed =>
                    await run.SendAsync(composed.Message, composed.EnvelopeFrom, composed.To, cancel),
                MailComposer.Outcome.Refused refused => new Delivery.Refused(refused.Reason),
                _ => throw new System.Diagnostics.UnreachableException(),
            };
            await MarkAsync(mail, delivery);
            counter.Add(delivery);
        }
    }

    /// <summary>
    /// A mail left under way waits again, under the same Message-ID: after its lease; or, in the first run of a program, at once, since
    /// only one program at a time works on a data folder.
    /// </summary>
    private async Task ReturnLeftBehindAsync(CancellationToken cancel)
    {
        DateTimeOffset now = Interlocked.Increment(ref _runs) == 1 ? DateTimeOffset.MaxValue : clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        int lapsed = await db.OutgoingMails
            .Where(mail => mail.State == MailState.Sending && mail.NextAt <= now)
            .ExecuteUpdateAsync(
                set => set.SetProperty(mail => mail.State, MailState.Waiting).SetProperty(mail => mail.NextAt, clock.GetUtcNow())
                    .SetProperty(mail => mail.LastReply, "The program stopped while this mail was under way; it may arrive twice."),
                cancel);
        if (lapsed > 0)
        {
            LogLapsed(lapsed);
        }
    }

    private Task<OutgoingMail?> ClaimAsync(CancellationToken cancel) => databases.WriteAsync(db => ClaimAsync(db, cancel), cancel);

    private async Task<OutgoingMail?> ClaimAsync(FleetDbContext db, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();

        // Fresh mails before those that have already failed: a broken recipient waits behind everybody else.
        OutgoingMail? mail = await db.OutgoingMails
            .Where(candidate => candidate.State == MailState.Waiting && candidate.NextAt <= now)
            .OrderBy(candidate => candidate.Attempts).ThenBy(candidate => candidate.NextAt).ThenBy(candidate => candidate.Id)
            .FirstOrDefaultAsync(cancel);
        if (mail is null)
        {
            return null;
        }

        mail.State = MailState.Sending;
        mail.Attempts++;
        mail.NextAt = now + Lease;
        return mail;
    }

    private TimeSpan Lease => TimeSpan.FromSeconds(options.Value.TimeoutSeconds + options.Value.ConnectSeconds + 120);

    /// <summary>Not cancelled by a stop: what the server said must not be lost.</summary>
    private async Task MarkAsync(OutgoingMail mail, Delivery delivery)
    {
        DateTimeOffset now = clock.GetUtcNow();
        (MailState state, DateTimeOffset next, DateTimeOffset? sent, string words) = delivery switch
        {
            Delivery.Taken taken => (MailState.Sent, now, (DateTimeOffset?)now, taken.Words),
            Delivery.Refused refused => (MailState.Dead, now, null, refused.Words),
            Delivery.TryLater later when options.Value.GivesUpAfter(mail.Attempts) =>
                (MailState.Dead, now, null, $"Given up after {mail.Attempts} tries. Last: {later.Words}"),
            Delivery.TryLater later => (MailState.Waiting, now + options.Value.DelayAfter(mail.Attempts), null, later.Words),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
        await using FleetDbContext db = await databases.CreateDbContextAsync(CancellationToken.None);
        await db.OutgoingMails
            .Where(row => row.Id == mail.Id && row.State == MailState.Sending && row.Attempts == mail.Attempts)
            .ExecuteUpdateAsync(set => set
                .SetProperty(row => row.State, state)
                .SetProperty(row => row.NextAt, next)
                .SetProperty(row => row.Sent, sent)
                .SetProperty(row => row.LastReply, words));
        LogMarked(mail.Id, state, mail.Attempts);
    }

    /// <summary>Shared by the lanes of one run.</summary>
    private sealed class Counter
    {
        private int _turns;
        private int _sent;

        public int Sent => _sent;

        public bool TakeTurn(int most) => Interlocked.Increment(ref _turns) <= most;

        public void Add(Delivery delivery)
        {
            if (delivery is Delivery.Taken)
            {
                Interlocked.Increment(ref _sent);
            }
        }
    }

    [LoggerMessage(4102, LogLevel.Information, "Mail {Id} is {State} after try {Attempts}")]
    private partial void LogMarked(int id, MailState state, int attempts);

    [LoggerMessage(4103, LogLevel.Warning, "{Count} mails were under way when the program stopped; they wait again")]
    private partial void LogLapsed(int count);
}
