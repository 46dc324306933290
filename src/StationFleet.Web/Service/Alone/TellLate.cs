using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using Quartz;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Duty;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Alone;

/// <summary>Tells once of each person who said when to be back and is not; quiet hours don't hold it up. That it was told stands with the outing.</summary>
internal sealed class TellLate(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> fleet, IOptions<DutyOptions> duty, Outbox outbox)
{
    // A phone that had no signal sends going out and being back one right after the other.
    private static readonly TimeSpan KnownFor = TimeSpan.FromMinutes(2);

    /// <summary>How the keys of the mails about an outing begin.</summary>
    public static string KeyOf(int outing) => $"outing-{outing}.";

    /// <returns>How many people are told to be late.</returns>
    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using (FleetDbContext db = await databases.CreateDbContextAsync(cancel))
        {
            // Most looks find nobody, and need no write lock.
            if (!await Late(db, now).AnyAsync(cancel))
            {
                return 0;
            }
        }

        return await databases.WriteAsync(db => WriteAsync(db, now, cancel), cancel);
    }

    private IQueryable<Outing> Late(FleetDbContext db, DateTimeOffset now)
    {
        (DateTimeOffset expected, DateTimeOffset known) = (now - TimeSpan.FromMinutes(duty.Value.TellLateAfterMinutes), now - KnownFor);
        return db.Outings.Where(outing => outing.Back == null && outing.Told == null && outing.ExpectedBack <= expected && outing.Known <= known);
    }

    private async Task<int> WriteAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        Crew crew = await Crew.ReadAsync(db, duty.Value, cancel);
        List<Outing> late = await Late(db, now).OrderBy(outing => outing.Id).ToListAsync(cancel);
        TimeZoneInfo zone = await OutingZone.OfAsync(db, fleet.Value, cancel);
        int told = 0;
        foreach (Outing outing in late)
        {
            // Nobody to tell yet: it is tried again until there is.
            IReadOnlyList<CrewMember> people = WhoIsTold.Of(crew, outing.PersonId);
            foreach (CrewMember member in people)
            {
                MailText text = OutingMail.Late(
                    outing.Who, outing.Where, outing.Since, outing.ExpectedBack, now, zone, outbox.Voice);
                outbox.Write(db, new Outbox.Draft(
                    FormattableString.Invariant($"{KeyOf(outing.Id)}{outing.ExpectedBack.ToUnixTimeSeconds()}/{member.Id}"), "outing", member.Id, member.Email, text, now));
            }

            outing.Told = people.Count > 0 ? now : null;
            told += people.Count > 0 ? 1 : 0;
        }

        return told;
    }
}

[DisallowConcurrentExecution]
internal sealed class TellLateJob(TellLate tell) : IJob
{
    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken = default) => await tell.HandleAsync(cancellationToken);
}
