using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Names days that bring more boats than usual, or fewer; or corrects them. The watch expects use accordingly.</summary>
internal sealed class SaveKnownDays(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int MostDays = 61;
    private const int YearsAround = 5;

    internal sealed class Command
    {
        /// <summary>The days to correct; null adds some.</summary>
        public int? Id { get; init; }

        public string Name { get; set; } = "";

        /// <summary>A local day of the access, as is the last.</summary>
        public string FirstDay { get; set; } = "";

        /// <summary>Empty: the first day only.</summary>
        public string LastDay { get; set; } = "";

        /// <summary>How many times the usual boats.</summary>
        public string Factor { get; set; } = "";

        /// <summary>An access's id; empty means all.</summary>
        public string Access { get; set; } = "";
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
            ? await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel)
            : new Outcome.NotAllowed();

    private async Task<Outcome> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        KnownDays? known = command.Id is null ? null : await db.KnownDays.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
        if ((command.Id is not null && known is null)
            || (known is not null && !KnownDaysRights.MayChange(viewer, await AccessAsync(db, known.AccessId, cancel))))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        Access? access = await AccessAsync(db, FormIds.Access(command.Access), cancel);
        if (access is null && command.Access.Length > 0)
        {
            typed.Wrong.Note(nameof(Command.Access), "Choose an access of the list.");
        }
        else if (!KnownDaysRights.MayChange(viewer, access))
        {
            typed.Wrong.Note(nameof(Command.Access), "Choose an access of your agency.");
        }

        string name = typed.Text(nameof(Command.Name), command.Name, 100, "Write what it is, such as Fishing derby.");
        (DateOnly first, DateOnly last) = Days(command, typed);
        double factor = Factor(command, typed);
        if (await IsKnownAlreadyAsync(db, command.Id, access?.Id, name, first, last, cancel))
        {
            typed.Wrong.Note(nameof(Command.Name), "These days are known already by this name. Change those.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (known is null)
        {
            known = new KnownDays { Name = name };
            db.KnownDays.Add(known);
        }

        (known.Name, known.FirstDay, known.LastDay, known.Factor, known.AccessId) = (name, first, last, factor, access?.Id);
        return new Outcome.Saved();
    }

    private (DateOnly First, DateOnly Last) Days(Command command, Typed typed)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        DateOnly first = typed.Day(nameof(Command.FirstDay), command.FirstDay, today.AddYears(-YearsAround), today.AddYears(YearsAround));
        DateOnly last = string.IsNullOrWhiteSpace(command.LastDay)
            ? first
            : typed.Day(nameof(Command.LastDay), command.LastDay, DateOnly.MinValue, DateOnly.MaxValue);
        if (typed.Wrong.For(nameof(Command.FirstDay)) is not null)
        {
            return (first, last);
        }

        if (last < first)
        {
            typed.Wrong.Note(nameof(Command.LastDay), "The last day must not lie before the first.");
        }
        else if (last.DayNumber - first.DayNumber >= MostDays)
        {
            typed.Wrong.Note(nameof(Command.LastDay), $"Name at most {MostDays} days at once: what lasts longer is usual.");
        }

        return (first, last);
    }

    private static double Factor(Command command, Typed typed)
    {
        double factor = typed.Number(nameof(Command.Factor), command.Factor, 0.05, 20);
        if (factor == 1)
        {
            typed.Wrong.Note(nameof(Command.Factor), "1 is the usual: write more, such as 2 for twice the boats, or less.");
        }

        return factor;
    }

    private static Task<Access?> AccessAsync(FleetDbContext db, AccessId? id, CancellationToken cancel) =>
        db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id, cancel);

    private static Task<bool> IsKnownAlreadyAsync(
        FleetDbContext db, int? own, AccessId? access, string name, DateOnly first, DateOnly last, CancellationToken cancel) =>
        db.KnownDays.AnyAsync(
            row => row.Id != (own ?? 0) && row.AccessId == access && row.Name == name && row.FirstDay <= last && row.LastDay >= first, cancel);
}
