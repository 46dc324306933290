using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Notes that an access is closed from a time, perhaps to a time, and why; or corrects that.</summary>
internal sealed class SaveClosure(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        public AccessId Access { get; init; }

        /// <summary>The closure to correct; null adds one.</summary>
        public int? Id { get; init; }

        /// <summary>By the access's own clock, as is the end.</summary>
        public string From { get; set; } = "";

        /// <summary>Empty while nobody knows.</summary>
        public string To { get; set; } = "";

        public string Reason { get; set; } = "";
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

    private static async Task<Outcome> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Access? access = await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == command.Access, cancel);
        List<AccessClosure> closures = await db.AccessClosures.Where(row => row.AccessId == command.Access).ToListAsync(cancel);
        AccessClosure? closure = command.Id is null ? null : closures.SingleOrDefault(row => row.Id == command.Id);
        if (access is null || !AccessRights.MayChange(viewer, access) || (command.Id is not null && closure is null))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        DateTimeOffset from = typed.Instant(nameof(Command.From), command.From, access.Zone);
        DateTimeOffset? to = typed.InstantOrNothing(nameof(Command.To), command.To, access.Zone);
        string reason = typed.Text(nameof(Command.Reason), command.Reason, 200, "Write why, such as low water.");
        if (to <= from)
        {
            typed.Wrong.Note(nameof(Command.To), "The end must lie after the start.");
        }

        if (closures.Exists(other => other.Id != command.Id && Periods.Overlap(other.From, other.To, from, to)))
        {
            typed.Wrong.Note(nameof(Command.From), "Another closure covers a part of this time. Change that one.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (closure is null)
        {
            closure = new AccessClosure { AccessId = access.Id, Reason = reason };
            db.AccessClosures.Add(closure);
        }

        (closure.From, closure.To, closure.Reason) = (from, to, reason);
        return new Outcome.Saved();
    }
}
