using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Duty;

/// <summary>
/// Tells people of tickets that nobody has taken: first the person on duty, later those after. What is to tell follows from the
/// tickets and the calls in the database, so it is told once, however often this runs and wherever it was stopped.
/// </summary>
internal sealed partial class CallPeople(
    IDbContextFactory<FleetDbContext> databases, Outbox outbox, IOptions<DutyOptions> duty, IOptions<FleetOptions> fleet, FleetClock clock,
    ILogger<CallPeople> logger)
{
    private sealed record Open(Ticket Ticket, Station Station, Access? Access, TicketEvent Began, IReadOnlyList<Call> Calls);

    private sealed record Call(string PersonId, DateTimeOffset At, bool Arrived);

    private sealed record Telling(Open About, CrewMember Member, CalledTicket Said);

    /// <summary>Tells what is to be told now.</summary>
    /// <returns>How many mails were written.</returns>
    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        // Most looks find nothing, and need no write lock.
        await using (FleetDbContext db = await databases.CreateDbContextAsync(cancel))
        {
            if ((await TellingsAsync(db, clock.GetUtcNow(), cancel)).Count == 0)
            {
                return 0;
            }
        }

        int written = await databases.WriteAsync(db => HandleAsync(db, clock.GetUtcNow(), cancel), cancel);
        LogCalled(written);
        return written;
    }

    /// <summary>Tells within a transaction of the caller's.</summary>
    public async Task<int> HandleAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        int written = 0;
        foreach (IGrouping<string, Telling> own in (await TellingsAsync(db, now, cancel)).GroupBy(telling => telling.Member.Id))
        {
            Dictionary<int, Telling> byNumber = own.ToDictionary(telling => telling.Said.Number);
            foreach (IReadOnlyList<CalledTicket> tickets in TicketMail.Mails([.. own.Select(telling => telling.Said)]))
            {
                await WriteAsync(db, [.. tickets.Select(ticket => byNumber[ticket.Number])], now, cancel);
                written++;
            }
        }

        // Who looks again within the transaction must see who was told.
        await db.SaveChangesAsync(cancel);
        return written;
    }

    private async Task<IReadOnlyList<Telling>> TellingsAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        List<Open> open = await OpenAsync(db, now, cancel);
        if (open.Count == 0)
        {
            return [];
        }

        Guidance guidance = await db.GuidanceAsync(cancel);
        Crew everybody = await Crew.ReadAsync(db, duty.Value, cancel);
        return
        [
            .. from ticket in open
               let crew = everybody.For(ticket.Station)
               from member in WhomToCall.Now(CaseOf(ticket, crew, now), now, duty.Value)
               select new Telling(ticket, member, Say(ticket, crew) with { Guidance = guidance }),
        ];
    }

    private static async Task<List<Open>> OpenAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        List<Ticket> tickets = await db.Tickets.AsNoTracking()
            .Where(ticket => ticket.State == TicketState.New && ticket.Raised <= now && (ticket.SnoozedUntil == null || ticket.SnoozedUntil <= now))
            .OrderBy(ticket => ticket.Number).ToListAsync(cancel);
        Domain.Fleet.TicketId[] ids = [.. tickets.Select(ticket => ticket.Id)];
        ILookup<Domain.Fleet.TicketId, TicketEvent> began = (await db.TicketEvents.AsNoTracking()
            .Where(e => ids.Contains(e.TicketId) && (e.Kind == TicketEventKind.Raised || e.Kind == TicketEventKind.Reopened))
            .ToListAsync(cancel)).ToLookup(e => e.TicketId);
        ILookup<int, Call> calls = (await db.TicketCalls.Where(call => ids.Contains(call.TicketId))
            .Join(db.OutgoingMails, call => call.MailId, mail => mail.Id, (call, mail) => new
            {
                call.EventId, call.PersonId, call.At, Arrived = mail.State != MailState.Dead && mail.Bounced == null,
            })
            .ToListAsync(cancel)).ToLookup(call => call.EventId, call => new Call(call.PersonId, call.At, call.Arrived));
        Dictionary<Domain.Fleet.StationId, Station> stations = await db.Stations.AsNoTracking().ToDictionaryAsync(row => row.Id, cancel);
        Dictionary<Domain.Fleet.AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(row => row.Id, cancel);
        return
        [
            .. from ticket in tickets
               where began[ticket.Id].Any()
               let newest = began[ticket.Id].MaxBy(e => e.Id)!
               select new Open(
                   ticket, stations[ticket.StationId], ticket.AccessId is { } access ? accesses[access] : null, newest,
                   [.. calls[newest.Id].OrderBy(call => call.At)]),
        ];
    }

    private WhomToCall.Case CaseOf(Open ticket, Crew crew, DateTimeOffset now)
    {
        DateTimeOffset? last = ticket.Calls.Count == 0 ? null : ticket.Calls[^1].At;
        if (last is not null && ticket.Ticket.SnoozedUntil is { } woke && woke > last && woke <= now)
        {
            last = woke;
        }

        return new WhomToCall.Case(
            crew,
            ticket.Ticket.AccessId,
            ticket.Access?.Zone ?? fleet.Value.Zone,
            [.. ticket.Calls.Select(call => call.PersonId)],
            last,
            ticket.Calls.All(call => !call.Arrived),
            ticket.Ticket.ProblemCleared is null,
            ticket.Ticket.Rule == Rule.NewFind);
    }

    private CalledTicket Say(Open open, Crew crew) => new(
        open.Ticket.Number,
        open.Station.Code,
        open.Access is { } access ? $"{access.Name}, {access.Water}" : null,
        open.Ticket.Rule,
        WatchJson.Read<Evidence>(open.Ticket.Evidence),
        open.Began.At,
        open.Calls.Count > 0 ? CallReason.NotTaken : open.Began.Kind == TicketEventKind.Reopened ? CallReason.Reopened : CallReason.Raised,
        open.Calls.Count > 0 ? crew.NameOf(open.Calls[0].PersonId) : null,
        outbox.Url($"/tickets/{open.Ticket.Number}"),
        open.Access?.Zone ?? fleet.Value.Zone);

    private async Task WriteAsync(FleetDbContext db, IReadOnlyList<Telling> tellings, DateTimeOffset now, CancellationToken cancel)
    {
        (Telling first, CrewMember member) = (tellings[0], tellings[0].Member);
        MailText text = TicketMail.Write([.. tellings.Select(telling => telling.Said)], outbox.Voice, fleet.Value.Units, now);
        (string? thread, string? subject) = await ThreadAsync(db, tellings, cancel);
        OutgoingMail mail = outbox.Write(db, new Outbox.Draft(
            $"call-{first.About.Began.Id}/{member.Id}",
            $"ticket-{first.Said.Number}.{first.Said.Reason.ToString().ToLowerInvariant()}",
            member.Id,
            member.Email,
            subject is null ? text : text with { Subject = subject },
            now)
        {
            ThreadId = thread, TicketId = first.About.Ticket.Id, IsAnswerable = true,
        });
        await db.SaveChangesAsync(cancel); // its number is known from here on
        db.AddRange(tellings.Select(telling => new TicketCall
        {
            TicketId = telling.About.Ticket.Id,
            EventId = telling.About.Began.Id,
            PersonId = member.Id,
            Reason = telling.Said.Reason,
            At = now,
            MailId = mail.Id,
        }));
    }

    /// <summary>The first mail about these tickets, if it was the same for all: this person's own, whose subject is kept, else anybody's.</summary>
    private static async Task<(string? Thread, string? Subject)> ThreadAsync(FleetDbContext db, IReadOnlyList<Telling> tellings, CancellationToken cancel)
    {
        string person = tellings[0].Member.Id;
        if (await FirstAsync(call => call.PersonId == person) is { } own)
        {
            return (own.MessageId, Outbox.Reply(own.Subject));
        }

        return ((await FirstAsync(_ => true))?.MessageId, null);

        async Task<OutgoingMail?> FirstAsync(Expression<Func<TicketCall, bool>> whose)
        {
            HashSet<int?> firsts = [];
            foreach (Telling telling in tellings)
            {
                firsts.Add(await db.TicketCalls.Where(call => call.TicketId == telling.About.Ticket.Id).Where(whose)
                    .OrderBy(call => call.Id).Select(call => (int?)call.MailId).FirstOrDefaultAsync(cancel));
            }

            return firsts.Count == 1 && firsts.Single() is { } first ? await db.OutgoingMails.FindAsync([first], cancel) : null;
        }
    }

    [LoggerMessage(4110, LogLevel.Information, "{Count} mails were written about tickets that nobody has taken")]
    private partial void LogCalled(int count);
}
