using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Service;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;

namespace StationFleet.Web.Mail.Replies;

/// <summary>
/// Does what one message in the mailbox asks for, in one transaction with the row that says that it was handled: «taken» from the
/// recipient of a ticket's mail takes the ticket, anything else that answers such a mail becomes a note.
/// </summary>
internal sealed class HandleIncoming(
    IDbContextFactory<FleetDbContext> databases, TakeTicket take, Outbox outbox, IOptions<ImapOptions> imap, IOptions<DutyOptions> duty,
    IOptions<FleetOptions> fleet, FleetClock clock)
{
    private const int LongestField = 200;

    /// <summary>What a message did.</summary>
    private sealed record Done(ReceivedKind Kind, OutgoingMail? Mail = null, Ticket? Ticket = null, string? Words = null);

    public Task<ReceivedKind> HandleAsync(IncomingMail message, CancellationToken cancel) =>
        databases.WriteAsync(db => HandleAsync(db, message, cancel), cancel);

    private async Task<ReceivedKind> HandleAsync(FleetDbContext db, IncomingMail message, CancellationToken cancel)
    {
        if (await db.ReceivedMails.AnyAsync(row => row.Mailbox == message.Mailbox && row.Uid == message.Uid, cancel))
        {
            return ReceivedKind.Again;
        }

        bool isKnown = await db.ReceivedMails.AnyAsync(row => row.Identity == message.Identity, cancel);
        Done done = isKnown ? new Done(ReceivedKind.Again) : await DoAsync(db, message, cancel);
        db.Add(new ReceivedMail
        {
            Mailbox = message.Mailbox,
            Uid = message.Uid,
            Identity = message.Identity,
            At = clock.GetUtcNow(),
            From = Line(message.From),
            Subject = Line(message.Message.Subject ?? ""),
            Kind = done.Kind,
            MailId = done.Mail?.Id,
            TicketId = done.Ticket?.Id,
            Words = done.Words,
        });
        return done.Kind;
    }

    private async Task<Done> DoAsync(FleetDbContext db, IncomingMail message, CancellationToken cancel)
    {
        if (message.NotFetched is ReceivedKind.Unreadable)
        {
            return new Done(ReceivedKind.Unreadable);
        }

        if (BounceReport.Of(message.Message) is { } report)
        {
            return await BounceAsync(db, report, cancel);
        }

        string? token = message.Token(imap.Value);
        OutgoingMail? answered = token is null ? null : await db.OutgoingMails.FirstOrDefaultAsync(row => row.ReplyToken == token, cancel);
        if (message.IsAutomatic)
        {
            return new Done(ReceivedKind.Automatic, answered);
        }

        if (answered is null)
        {
            return new Done(ReceivedKind.Stranger);
        }

        if (message.NotFetched is { } why)
        {
            return new Done(why, answered);
        }

        string own = ReplyText.Own(message.Text);
        return own.Length == 0 ? new Done(ReceivedKind.Empty, answered) : await AnswerAsync(db, message, answered, own, cancel);
    }

    private async Task<Done> BounceAsync(FleetDbContext db, BounceReport report, CancellationToken cancel)
    {
        OutgoingMail? mail = await db.OutgoingMails.FirstOrDefaultAsync(row => row.MessageId == report.MailId, cancel);
        if (!report.IsFailure)
        {
            return new Done(ReceivedKind.DeliveryNote, mail, Words: report.Words);
        }

        if (mail is not null)
        {
            (mail.Bounced, mail.LastReply) = (clock.GetUtcNow(), $"Came back: {report.Words}");
        }

        return new Done(ReceivedKind.Bounce, mail, Words: report.Words);
    }

    private async Task<Done> AnswerAsync(FleetDbContext db, IncomingMail message, OutgoingMail answered, string own, CancellationToken cancel)
    {
        List<Ticket> tickets = await db.Tickets
            .Where(ticket => ticket.Id == answered.TicketId || db.TicketCalls.Any(call => call.MailId == answered.Id && call.TicketId == ticket.Id))
            .OrderBy(ticket => ticket.Number).ToListAsync(cancel);
        Crew crew = await Crew.ReadAsync(db, duty.Value, cancel);
        CrewMember? recipient = crew.Members.FirstOrDefault(member => member.Id == answered.PersonId);
        bool isOwn = recipient is not null && string.Equals(message.From, answered.To, StringComparison.OrdinalIgnoreCase);
        ReplyText.Wish wish = ReplyText.Read(own);
        if (!wish.IsTaking || !isOwn)
        {
            string who = isOwn ? recipient!.Name : $"{Line(message.From)} by mail";
            Note(db, message, tickets, who, wish.IsTaking ? own : wish.Note);
            return new Done(ReceivedKind.Noted, answered, tickets.FirstOrDefault());
        }

        List<Ticket> meant = wish.Tickets.Count == 0 ? tickets : tickets.FindAll(ticket => wish.Tickets.Contains(ticket.Number));
        List<TakeAnswer.Line> lines = [];
        foreach (Ticket ticket in meant)
        {
            lines.Add(await TakeAsync(db, message, ticket, recipient!, cancel));
        }

        lines.AddRange(wish.Tickets.Where(number => meant.TrueForAll(ticket => ticket.Number != number))
            .Select(number => new TakeAnswer.Line(number, new TicketAnswer.Unknown(), fleet.Value.Zone, outbox.Url("/tickets"))));
        if (wish.Note.Length > 0)
        {
            Note(db, message, meant, recipient!.Name, wish.Note);
        }

        Answer(db, message, answered, recipient!, lines, wish.Note.Length > 0);
        return new Done(lines.Exists(line => line.IsTaken) ? ReceivedKind.Took : ReceivedKind.TooLate, answered, meant.FirstOrDefault());
    }

    private async Task<TakeAnswer.Line> TakeAsync(FleetDbContext db, IncomingMail message, Ticket ticket, CrewMember person, CancellationToken cancel)
    {
        TimeZoneInfo zone = ticket.AccessId is { } access
            ? (await db.Accesses.AsNoTracking().FirstAsync(row => row.Id == access, cancel)).Zone
            : fleet.Value.Zone;
        TicketAnswer answer;
        if (ticket.State == TicketState.Taken && ticket.TakenById == person.Id)
        {
            answer = new TicketAnswer.AlreadyDone();
        }
        else
        {
            // What nobody has can be taken, whatever was done to it since the mail; what somebody did to it otherwise stays.
            int told = await db.TicketCalls.Where(call => call.TicketId == ticket.Id && call.PersonId == person.Id)
                .MaxAsync(call => (int?)call.EventId, cancel) ?? 0;
            int version = ticket.State == TicketState.New ? ticket.Version : -1;
            Viewer viewer = new(person.Id, person.Name, person.Roles, person.Agency);
            answer = await take.HandleAsync(db, new TicketForm(ticket.Number, $"{message.Key}-{ticket.Number}", version, told, viewer), cancel);
        }

        return new TakeAnswer.Line(ticket.Number, answer, zone, outbox.Url($"/tickets/{ticket.Number}"));
    }

    private void Note(FleetDbContext db, IncomingMail message, IEnumerable<Ticket> tickets, string who, string note)
    {
        foreach (Ticket ticket in tickets)
        {
            ticket.Version++;
            db.Add(new TicketEvent
            {
                TicketId = ticket.Id, At = clock.GetUtcNow(), Kind = TicketEventKind.Noted, Who = who, Note = note,
                IdempotencyKey = $"{message.Key}-{ticket.Number}-note",
            });
        }
    }

    private void Answer(
        FleetDbContext db, IncomingMail message, OutgoingMail answered, CrewMember person, IReadOnlyList<TakeAnswer.Line> lines, bool hasNote)
    {
        DateTimeOffset now = clock.GetUtcNow();
        MailText text = TakeAnswer.Write(lines, answered.Subject, hasNote, outbox.Voice, now);
        outbox.Write(db, new Outbox.Draft($"answer-{message.Key}", "answer", person.Id, person.Email, text, now)
        {
            ThreadId = answered.ThreadId ?? answered.MessageId,
            TicketId = answered.TicketId,
            IsAnswerable = true,
            Answers = message.Message.MessageId,
        });
    }

    private static string Line(string text)
    {
        string line = MailWriter.OneLine(text).Trim();
        return line.Length <= LongestField ? line : line[..LongestField];
    }
}
