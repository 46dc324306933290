using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Fleet.Office;

/// <summary>What the Office holds, in numbers, for its contents page.</summary>
public sealed class ReadOffice(
    IDbContextFactory<FleetDbContext> databases, ReadSetAside setAside, FleetClock clock, IOptions<FleetOptions> options)
{
    public sealed record View(
        int Stations,
        int Portable,
        int WithoutKey,
        int Accesses,
        int Closed,
        int KnownDaysAhead,
        int Agencies,
        int People,
        int MailsWaiting,
        int MailsDead,
        int SetAside,
        int LoggerFiles,
        bool MayManagePeople);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Station> stations = db.Stations.VisibleTo(viewer);
        return new View(
            await stations.CountAsync(cancel),
            await stations.CountAsync(station => station.IsPortable, cancel),
            await stations.CountAsync(station => !db.StationKeys.Any(key => key.StationId == station.Id && key.Revoked == null), cancel),
            await db.Accesses.CountAsync(cancel),
            await db.AccessClosures.Where(closure => closure.From <= now && (closure.To == null || closure.To > now))
                .Select(closure => closure.AccessId).Distinct().CountAsync(cancel),
            await db.KnownDays.CountAsync(known => known.LastDay >= today, cancel),
            await db.Agencies.CountAsync(cancel),
            viewer.MayManagePeople() ? await db.Users.CountAsync(cancel) : 0,
            await db.OutgoingMails.CountAsync(mail => mail.State == MailState.Waiting || mail.State == MailState.Sending, cancel),
            await db.OutgoingMails.CountAsync(mail => mail.State == MailState.Dead || mail.Bounced != null, cancel),
            await setAside.CountAsync(viewer, null, cancel),
            await db.LoggerFileImports.CountAsync(import => stations.Any(station => station.Id == import.StationId), cancel),
            viewer.MayManagePeople());
    }
}
