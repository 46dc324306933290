using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using Quartz;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Time;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>
/// Writes the reminders of reports into the outbox, 30, 14 and 3 days before each is due, to the supervisors. Which one went out
/// stands with the report, in the same transaction: a restart repeats none.
/// </summary>
internal sealed class RemindOfReports(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, Outbox outbox, IOptions<FleetOptions> fleet)
{
    /// <summary>Not before this local hour: nobody wants it at midnight.</summary>
    private const int FirstHour = 6;

    /// <returns>How many reminders were written.</returns>
    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        if (TimeZoneInfo.ConvertTime(now, fleet.Value.Zone).Hour < FirstHour)
        {
            return 0;
        }

        return await databases.WriteAsync(db => WriteAsync(db, now, cancel), cancel);
    }

    private async Task<int> WriteAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(now, fleet.Value.Zone);
        Dictionary<(AwardId, DateOnly, bool), int?> sent = await db.AwardReports.AsNoTracking()
            .ToDictionaryAsync(report => (report.AwardId, report.PeriodEnd, report.IsFinal), report => report.Reminded, cancel);
        IReadOnlyList<Reminder> reminders = Reminders.Today(
            await DueDateReader.ReadAsync(db, cancel), today, due => sent.GetValueOrDefault((due.Award, due.PeriodEnd, due.IsFinal)));
        if (reminders.Count == 0)
        {
            return 0;
        }

        List<FleetUser> people = await db.Users
            .Where(user => user.Email != null && user.Email != "" && user.AgencyId == null)
            .Where(user => db.UserRoles.Any(has => has.UserId == user.Id && db.Roles.Any(role => role.Id == has.RoleId && role.Name == FleetRoles.Supervisor)))
            .OrderBy(user => user.Id).ToListAsync(cancel);
        foreach (Reminder reminder in reminders)
        {
            DueDate report = reminder.Report;
            MailText text = ReminderMail.Write(reminder, today, outbox.Url($"/awards/{report.Award.Value}"), outbox.Voice);
            string key = FormattableString.Invariant($"award-{report.Award.Value}.{report.PeriodEnd:yyyyMMdd}.{(report.IsFinal ? "final" : "interim")}.{report.Due:yyyyMMdd}.{reminder.DaysBefore}");
            foreach (FleetUser person in people)
            {
                outbox.Write(db, new Outbox.Draft($"{key}/{person.Id}", "award", person.Id, person.Email!, text, now));
            }

            (await DueDateReader.KnownAsync(db, report.Award, report.PeriodEnd, report.IsFinal, cancel)).Reminded = reminder.DaysBefore;
        }

        return reminders.Count;
    }
}

[DisallowConcurrentExecution]
internal sealed class RemindOfReportsJob(RemindOfReports remind) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) => await remind.HandleAsync(cancellationToken);
}
