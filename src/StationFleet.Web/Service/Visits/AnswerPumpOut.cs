using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>
/// Stores what a person said of an emptied tank. «It was me» writes the pump-out down as a visit would have: joined to the person's
/// own visit of those hours where there is one, else as a visit of its own.
/// </summary>
internal sealed class AnswerPumpOut(PumpOutQuestions questions, IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    /// <param name="At">When the sensor saw it.</param>
    /// <param name="Site">The disposal site, as typed.</param>
    internal sealed record Command(StationId Station, DateTimeOffset At, bool WasMe, string Site);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(string Why) : Outcome;

        /// <summary>It is answered already, or was never there.</summary>
        internal sealed record Gone : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        // What cannot be asked cannot be answered: rights and witnesses are looked at there.
        if ((await questions.HandleAsync(viewer, cancel)).FirstOrDefault(one => one.StationId == command.Station && one.At == command.At) is not { } question)
        {
            return new Outcome.Gone();
        }

        return await databases.WriteAsync(db => StoreAsync(db, viewer, command, question, cancel), cancel);
    }

    private async Task<Outcome> StoreAsync(
        FleetDbContext db, Viewer viewer, Command command, PumpOutQuestions.Question question, CancellationToken cancel)
    {
        // Two phones may answer at once: the first one holds.
        if (await db.PumpOutAnswers.AnyAsync(
            answer => answer.StationId == command.Station && answer.PumpOutAt == command.At && (answer.WasThem || answer.PersonId == viewer.UserId), cancel))
        {
            return new Outcome.Gone();
        }

        int? site = int.TryParse(command.Site, NumberStyles.None, CultureInfo.InvariantCulture, out int chosen) && await db.DisposalSites.AnyAsync(row => row.Id == chosen, cancel)
            ? chosen
            : null;
        if (command.WasMe && site is null && await db.DisposalSites.AnyAsync(cancel))
        {
            return new Outcome.Refused("Say where the water was taken.");
        }

        db.Add(new PumpOutAnswer
        {
            StationId = command.Station, PumpOutAt = command.At, PersonId = viewer.UserId, Who = viewer.Name, At = clock.GetUtcNow(), WasThem = command.WasMe,
        });
        if (command.WasMe)
        {
            db.Add(new PumpOut
            {
                StationId = command.Station, At = command.At, Litres = question.Litres, Source = PumpOutSource.Visit,
                VisitId = await VisitAsync(db, viewer, command, cancel), DisposalSiteId = site,
            });
        }

        return new Outcome.Saved();
    }

    private static async Task<int> VisitAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = (command.At - PumpOuts.SameWithin, command.At + PumpOuts.SameWithin);
        List<ServiceVisit> own = await db.ServiceVisits
            .Where(visit => visit.StationId == command.Station && visit.Who == viewer.Name && visit.At >= from && visit.At <= to).ToListAsync(cancel);
        if (own.MinBy(visit => (visit.At - command.At).Duration()) is { } known)
        {
            return known.Id;
        }

        ServiceVisit visit = new() { StationId = command.Station, Who = viewer.Name, At = command.At, Note = "Emptied the tank; told afterwards." };
        db.Add(visit);
        await db.SaveChangesAsync(cancel);
        return visit.Id;
    }
}
