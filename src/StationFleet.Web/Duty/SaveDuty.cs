using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Duty;

/// <summary>Adds a person's hours on duty, or corrects them.</summary>
internal sealed class SaveDuty(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        /// <summary>The hours to correct; null adds some.</summary>
        public int? Id { get; init; }

        public string Person { get; set; } = "";

        /// <summary>An access's id; empty means every access.</summary>
        public string Access { get; set; } = "";

        public Weekdays Days { get; set; } = Weekdays.All;

        public string From { get; set; } = "07:00";

        public string To { get; set; } = "17:00";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) =>
        viewer.MayChangeFleet()
            ? await databases.WriteAsync(db => SaveAsync(db, command, cancel), cancel)
            : new Outcome.NotAllowed();

    private static async Task<Outcome> SaveAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        DutyEntry? entry = command.Id is null ? null : await db.DutyHours.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
        if (command.Id is not null && entry is null)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        if (!await db.Users.AnyAsync(user => user.Id == command.Person, cancel))
        {
            typed.Wrong.Note(nameof(Command.Person), "Choose a person of the list.");
        }

        AccessId? access = FormIds.Access(command.Access);
        if (command.Access.Length > 0 && !await db.Accesses.AnyAsync(row => row.Id == access, cancel))
        {
            typed.Wrong.Note(nameof(Command.Access), "Choose an access of the list.");
        }

        if (command.Days == Weekdays.None)
        {
            typed.Wrong.Note(nameof(Command.Days), "Choose at least one day.");
        }

        TimeOnly from = typed.Time(nameof(Command.From), command.From);
        TimeOnly to = typed.Time(nameof(Command.To), command.To);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (entry is null)
        {
            entry = new DutyEntry { PersonId = command.Person };
            db.Add(entry);
        }

        (entry.PersonId, entry.AccessId, entry.Days, entry.From, entry.To) = (command.Person, access, command.Days, from, to);
        return new Outcome.Saved();
    }
}
