using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail.Digests;

/// <summary>
/// Writes the morning mail and the weekly one, each from what the page Today shows its reader. The day stands in the mail's key, so
/// that a day's mail is written once however often this runs; after a stop it is made up for, but not in the afternoon.
/// </summary>
internal sealed class SendDigests(
    IDbContextFactory<FleetDbContext> databases, ReadToday readToday, ReadWeek readWeek, Outbox outbox, DigestLinks links,
    IOptions<DigestOptions> options, IOptions<DutyOptions> duty, IOptions<FleetOptions> fleet, FleetClock clock)
{
    private static readonly TimeSpan MadeUpFor = TimeSpan.FromHours(6);

    /// <returns>How many mails were written.</returns>
    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, fleet.Value.Zone);
        DateTimeOffset due = LocalCalendar.ReachedAt(today, options.Value.MorningAt, fleet.Value.Zone);
        if (now < due || now > due + MadeUpFor)
        {
            return 0;
        }

        int written = 0;
        DigestKind[] kinds = today.DayOfWeek == options.Value.WeeklyOn ? [DigestKind.Morning, DigestKind.Weekly] : [DigestKind.Morning];
        foreach ((DigestKind kind, CrewMember member, Crew crew) in await MissingAsync(kinds, today, cancel))
        {
            // Reading the page takes its time and needs no lock; the key decides at the end.
            if (await TextAsync(kind, member, crew, today, now, cancel) is { } text)
            {
                written += await databases.WriteAsync(db => WriteAsync(db, kind, member, text, today, now, cancel), cancel);
            }
        }

        return written;
    }

    private static string Key(DigestKind kind, DateOnly day, CrewMember member) =>
        string.Create(CultureInfo.InvariantCulture, $"{kind.ToString().ToLowerInvariant()}-{day:yyyy-MM-dd}/{member.Id}");

    private async Task<List<(DigestKind, CrewMember, Crew)>> MissingAsync(IEnumerable<DigestKind> kinds, DateOnly today, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Crew crew = await Crew.ReadAsync(db, duty.Value, cancel);
        var wanted = kinds.SelectMany(kind => crew.Members.Where(member => DigestKinds.IsWanted(kind, member)).Select(member => (kind, member))).ToList();
        string[] keys = [.. wanted.Select(one => Key(one.kind, today, one.member))];
        HashSet<string> there = [.. await db.OutgoingMails.Where(mail => keys.Contains(mail.Key)).Select(mail => mail.Key).ToListAsync(cancel)];
        return [.. wanted.Where(one => !there.Contains(Key(one.kind, today, one.member))).Select(one => (one.kind, one.member, crew))];
    }

    private async Task<MailText?> TextAsync(
        DigestKind kind, CrewMember member, Crew crew, DateOnly today, DateTimeOffset now, CancellationToken cancel)
    {
        Viewer viewer = new(member.Id, member.Name, member.Roles, member.Agency);
        ReadToday.View view = await readToday.HandleAsync(viewer, cancel);
        if (view.Stations.Count == 0)
        {
            return null;
        }

        IReadOnlyList<CrewMember> onDuty = crew.Named(crew.Roster.OnDay(today));
        DigestInput input = new(
            today.ToString("dddd d MMMM", CultureInfo.InvariantCulture),
            view.Headline,
            [.. view.Needs.Select(need => (need.Station, $"{need.Sentence} T-{need.Number}, {need.Who}.", (string?)outbox.Url($"/tickets/{need.Number}")))],
            [.. view.Coming.Select(coming => (coming.Station, coming.Sentence))],
            onDuty.Count == 0 ? null : string.Join(", ", onDuty.Select(person => person.Name)),
            outbox.Url("/"),
            links.StopUrl(member.Id, kind));
        return kind == DigestKind.Morning
            ? DigestMail.Morning(input, outbox.Voice)
            : DigestMail.Weekly(input, await readWeek.HandleAsync(viewer, crew, view.Week, now, cancel), outbox.Voice);
    }

    private async Task<int> WriteAsync(
        FleetDbContext db, DigestKind kind, CrewMember member, MailText text, DateOnly today, DateTimeOffset now, CancellationToken cancel)
    {
        string key = Key(kind, today, member);
        if (await db.OutgoingMails.AnyAsync(mail => mail.Key == key, cancel))
        {
            return 0;
        }

        string name = string.Create(CultureInfo.InvariantCulture, $"{kind.ToString().ToLowerInvariant()}-{today:yyyyMMdd}");
        outbox.Write(db, new Outbox.Draft(key, name, member.Id, member.Email, text, now) { UnsubscribeUrl = links.StopUrl(member.Id, kind) });
        return 1;
    }
}
