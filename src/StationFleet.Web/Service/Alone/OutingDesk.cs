using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Alone;

/// <summary>A person goes out and says until when, says so anew, or is back.</summary>
internal sealed class OutingDesk(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> fleet, Outbox outbox)
{
    private static readonly TimeSpan Longest = TimeSpan.FromHours(16);

    /// <param name="Key">The form's own key.</param>
    /// <param name="Back">The expected time of the day, as a browser's time field writes it.</param>
    /// <param name="Where">Where to, in the person's words.</param>
    /// <param name="Kept">How long the phone kept the form.</param>
    internal sealed record Command(string Key, string Back, string Where, TimeSpan Kept);

    /// <summary>Whoever works on tickets.</summary>
    public static bool MayUse(Viewer viewer) => TicketDesk.MayAct(viewer);

    public Task<FormOutcome> GoAsync(Viewer viewer, Command command, CancellationToken cancel) => ActAsync(viewer, command, GoAsync, cancel);

    public Task<FormOutcome> BackAsync(Viewer viewer, Command command, CancellationToken cancel) => ActAsync(viewer, command, BackAsync, cancel);

    private async Task<FormOutcome> ActAsync(
        Viewer viewer, Command command, Func<FleetDbContext, Viewer, Command, DateTimeOffset, CancellationToken, Task<FormOutcome>> act, CancellationToken cancel)
    {
        if (!MayUse(viewer))
        {
            return new FormOutcome.NotAllowed();
        }

        if (!FormKey.IsWhole(command.Key))
        {
            return new FormOutcome.Refused(new WrongFields { [""] = FormKey.NotWhole });
        }

        return await databases.WriteAsync(
            async db => await db.Outings.AnyAsync(row => row.PersonId == viewer.UserId && row.FormKeys.Contains(command.Key), cancel)
                ? new FormOutcome.Saved()
                : await act(db, viewer, command, clock.GetUtcNow(), cancel),
            cancel);
    }

    private async Task<FormOutcome> GoAsync(FleetDbContext db, Viewer viewer, Command command, DateTimeOffset now, CancellationToken cancel)
    {
        Typed typed = new();
        DateTimeOffset pressed = now - command.Kept;
        TimeOnly time = typed.Time(nameof(Command.Back), command.Back);
        string where = command.Where.Trim();
        if (where.Length > 200)
        {
            typed.Wrong.Note(nameof(Command.Where), "Shorten it to 200 characters.");
        }

        DateTimeOffset expected = Next(time, pressed, await OutingZone.OfAsync(db, fleet.Value, cancel));
        if (typed.Wrong.Count == 0 && expected > pressed + Longest)
        {
            typed.Wrong.Note(nameof(Command.Back), "This time has passed, or lies more than 16 hours ahead. When will you be back?");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        Outing? outing = await OpenAsync(db, viewer, cancel);
        if (outing is null)
        {
            db.Outings.Add(new Outing
            {
                PersonId = viewer.UserId, Who = viewer.Name, Since = pressed, Where = where, ExpectedBack = expected, Known = now, FormKeys = command.Key,
            });
        }
        else
        {
            (outing.ExpectedBack, outing.Where, outing.Known, outing.Told) = (expected, where, now, null);
            outing.FormKeys += $" {command.Key}";
        }

        return new FormOutcome.Saved();
    }

    private async Task<FormOutcome> BackAsync(FleetDbContext db, Viewer viewer, Command command, DateTimeOffset now, CancellationToken cancel)
    {
        if (await OpenAsync(db, viewer, cancel) is not { } outing)
        {
            return new FormOutcome.Saved(); // nobody waits: being back is never wrong
        }

        DateTimeOffset pressed = now - command.Kept;
        outing.Back = pressed > outing.Since ? pressed : now;
        outing.FormKeys += $" {command.Key}";
        TimeZoneInfo zone = await OutingZone.OfAsync(db, fleet.Value, cancel);
        foreach (OutgoingMail late in await db.OutgoingMails.Where(mail => mail.PersonId != null && mail.Key.StartsWith(TellLate.KeyOf(outing.Id))).ToListAsync(cancel))
        {
            outbox.Write(db, new Outbox.Draft(
                $"outing-back-{outing.Id}/{late.Id}", "outing", late.PersonId!, late.To,
                OutingMail.Back(outing.Who, outing.Back.Value, now, zone, outbox.Voice), now)
            {
                ThreadId = late.MessageId,
            });
        }

        return new FormOutcome.Saved();
    }

    private static Task<Outing?> OpenAsync(FleetDbContext db, Viewer viewer, CancellationToken cancel) =>
        db.Outings.FirstOrDefaultAsync(row => row.PersonId == viewer.UserId && row.Back == null, cancel);

    /// <summary>The next instant at which clocks show a time.</summary>
    private static DateTimeOffset Next(TimeOnly time, DateTimeOffset after, TimeZoneInfo zone)
    {
        DateOnly day = LocalCalendar.DateOf(after, zone);
        DateTimeOffset today = LocalCalendar.ReachedAt(day, time, zone);
        return today > after ? today : LocalCalendar.ReachedAt(day.AddDays(1), time, zone);
    }
}
