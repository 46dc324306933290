using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>Writes the mails about a ticket into the outbox, in the transaction that raises it.</summary>
internal sealed class TicketMailer(IOptions<FleetOptions> fleet, IOptions<MailOptions> mail, FleetPaths paths, IConfiguration configuration)
{
    private static readonly string[] RolesToTell = [FleetRoles.Technician, FleetRoles.Biologist];

    /// <summary>The station that a ticket is about, and when its mail is written.</summary>
    internal sealed record About(StationId Station, string Code, TimeZoneInfo Zone, DateTimeOffset Now);

    public Task WriteAsync(FleetDbContext db, TicketWriter.Telling telling, WatchFindings findings, CancellationToken cancel) =>
        WriteAsync(db, telling, new About(findings.Station, findings.Setup.Code, findings.Setup.Zone, findings.Now), cancel);

    public async Task WriteAsync(FleetDbContext db, TicketWriter.Telling telling, About about, CancellationToken cancel)
    {
        MailText text = await TextAsync(db, telling, about, cancel);
        string kind = telling.Kind.ToString().ToLowerInvariant();
        foreach (FleetUser person in await RecipientsAsync(db, about.Station, telling.Ticket.Rule, cancel))
        {
            string? thread = await db.OutgoingMails
                .Where(sent => sent.TicketId == telling.Ticket.Id && sent.To == person.Email)
                .OrderBy(sent => sent.Id).Select(sent => sent.MessageId).FirstOrDefaultAsync(cancel);
            db.Add(new OutgoingMail
            {
                Key = $"ticket-{telling.Ticket.Number}.{kind}.{telling.Ticket.TimesReopened}/{person.Id}",
                MessageId = $"ticket-{telling.Ticket.Number}.{kind}.{Guid.NewGuid():N}@{mail.Value.MessageIdDomain}",
                ThreadId = thread,
                TicketId = telling.Ticket.Id,
                To = person.Email!,
                Subject = text.Subject,
                Text = text.Text,
                Html = text.Html,
                Created = about.Now,
                State = MailState.Waiting,
                NextAt = about.Now,
            });
        }
    }

    // Those who have the role, an address, and may see the station.
    private static async Task<List<FleetUser>> RecipientsAsync(FleetDbContext db, StationId station, Rule rule, CancellationToken cancel)
    {
        string[] roles = rule == Rule.NewFind ? [FleetRoles.Biologist] : RolesToTell;
        Station where = await db.Stations.SingleAsync(s => s.Id == station, cancel);
        return await db.Users
            .Where(user => user.Email != null && user.Email != "")
            .Where(user => user.AgencyId == null || user.AgencyId == where.OwnerId || user.AgencyId == where.OperatorId)
            .Where(user => db.UserRoles.Any(has =>
                has.UserId == user.Id && db.Roles.Any(role => role.Id == has.RoleId && roles.Contains(role.Name))))
            .OrderBy(user => user.Id)
            .ToListAsync(cancel);
    }

    private async Task<MailText> TextAsync(FleetDbContext db, TicketWriter.Telling telling, About about, CancellationToken cancel)
    {
        Access? access = telling.Ticket.AccessId is { } id ? await db.Accesses.SingleAsync(a => a.Id == id, cancel) : null;
        TicketMailInput input = new(
            telling.Ticket.Number,
            about.Code,
            access is null ? null : $"{access.Name}, {access.Water}",
            telling.Ticket.Rule,
            WatchJson.Read<Evidence>(telling.Ticket.Evidence),
            telling.At,
            telling.Kind == TicketEventKind.Reopened,
            $"{BaseUrl().TrimEnd('/')}/tickets/{telling.Ticket.Number}",
            fleet.Value.Organization,
            paths.IsDemo);
        return TicketMail.Write(input, new Reader(fleet.Value.Units, about.Zone, about.Now));
    }

    private string BaseUrl() => fleet.Value.PublicUrl is { Length: > 0 } url
        ? url
        : configuration[WebHostDefaults.ServerUrlsKey]?.Split(';')[0] is { Length: > 0 } listening ? listening : "http://localhost:5080";
}
