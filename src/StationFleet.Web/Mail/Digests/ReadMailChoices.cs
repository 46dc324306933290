using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;

namespace StationFleet.Web.Mail.Digests;

/// <summary>Which mails the person gets.</summary>
internal sealed class ReadMailChoices(IDbContextFactory<FleetDbContext> databases, IOptions<DutyOptions> duty, IOptions<DigestOptions> digests)
{
    /// <param name="Email">Where they go; null: the account has no address.</param>
    /// <param name="QuietFrom">The person's own quiet hours, as a field holds them; empty: the usual ones.</param>
    /// <param name="Usual">The installation's quiet hours.</param>
    /// <param name="MorningAt">When the morning mail goes.</param>
    /// <param name="WeeklyOn">The day of the weekly one.</param>
    /// <param name="Duties">The person's hours on the roster, in words.</param>
    internal sealed record View(
        string? Email, bool Morning, bool Weekly, string QuietFrom, string QuietTo, ClockHours Usual, TimeOnly MorningAt, DayOfWeek WeeklyOn,
        IReadOnlyList<string> Duties);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        string? email = await db.Users.Where(user => user.Id == viewer.UserId).Select(user => user.Email).FirstOrDefaultAsync(cancel);
        var choices = await db.MailChoices.AsNoTracking().SingleOrDefaultAsync(row => row.PersonId == viewer.UserId, cancel);
        var hours = await db.DutyHours.AsNoTracking().Where(row => row.PersonId == viewer.UserId).OrderBy(row => row.Id)
            .Select(row => new { Row = row, Access = db.Accesses.Where(access => access.Id == row.AccessId).Select(access => access.Name).FirstOrDefault() })
            .ToListAsync(cancel);
        return new View(
            email,
            DigestKinds.Chosen(DigestKind.Morning, choices) ?? DigestKinds.IsUsual(DigestKind.Morning, viewer.Roles),
            DigestKinds.Chosen(DigestKind.Weekly, choices) ?? DigestKinds.IsUsual(DigestKind.Weekly, viewer.Roles),
            RosterWords.Field(choices?.QuietFrom),
            RosterWords.Field(choices?.QuietTo),
            duty.Value.Quiet,
            digests.Value.MorningAt,
            digests.Value.WeeklyOn,
            [.. hours.Select(entry => $"{RosterWords.When(entry.Row.Days, new ClockHours(entry.Row.From, entry.Row.To))}, {entry.Access ?? "every access"}")]);
    }
}
