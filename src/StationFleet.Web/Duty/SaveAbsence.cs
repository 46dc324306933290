using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Duty;

/// <summary>Notes that a person is away, and who stands in. Everybody may do it for themselves, biologists for all.</summary>
internal sealed class SaveAbsence(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int LongestDays = 366;

    internal sealed class Command
    {
        public string Person { get; set; } = "";

        /// <summary>Who stands in; empty: nobody.</summary>
        public string StandIn { get; set; } = "";

        public string FirstDay { get; set; } = "";

        /// <summary>Empty: the first day only.</summary>
        public string LastDay { get; set; } = "";
    }

    public static bool MaySave(Viewer viewer, string person) => viewer.MayChangeFleet() || viewer.UserId == person;

    /// <returns>What is wrong with the form; empty when it was saved; null when it is not the viewer's to do.</returns>
    public async Task<WrongFields?> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        if (command.Person.Length == 0)
        {
            typed.Wrong.Note(nameof(Command.Person), "Choose a person of the list.");
        }
        else if (!MaySave(viewer, command.Person))
        {
            return null;
        }

        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        DateOnly first = typed.Day(nameof(Command.FirstDay), command.FirstDay, today.AddDays(-LongestDays), today.AddDays(LongestDays));
        DateOnly last = string.IsNullOrWhiteSpace(command.LastDay)
            ? first
            : typed.Day(nameof(Command.LastDay), command.LastDay, today, today.AddDays(2 * LongestDays));
        if (typed.Wrong.Count == 0 && last < first)
        {
            typed.Wrong.Note(nameof(Command.LastDay), "The last day must not lie before the first.");
        }

        return await databases.WriteAsync(db => SaveAsync(db, command, first, last, typed.Wrong, cancel), cancel);
    }

    private static async Task<WrongFields?> SaveAsync(
        FleetDbContext db, Command command, DateOnly first, DateOnly last, WrongFields wrong, CancellationToken cancel)
    {
        if (command.Person.Length > 0 && !await db.Users.AnyAsync(user => user.Id == command.Person, cancel))
        {
            wrong.Note(nameof(Command.Person), "Choose a person of the list.");
        }

        if (command.StandIn.Length > 0 && !await db.Users.AnyAsync(user => user.Id == command.StandIn, cancel))
        {
            wrong.Note(nameof(Command.StandIn), "Choose a person of the list.");
        }
        else if (command.StandIn.Length > 0 && command.StandIn == command.Person)
        {
            wrong.Note(nameof(Command.StandIn), "Choose somebody else: nobody stands in for themselves.");
        }

        if (wrong.Count == 0)
        {
            db.Add(new AbsenceEntry
            {
                PersonId = command.Person, StandInId = command.StandIn.Length > 0 ? command.StandIn : null, FirstDay = first, LastDay = last,
            });
        }

        return wrong;
    }
}
