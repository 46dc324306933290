using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Phone;

namespace StationFleet.Web.Service.SignedLists;

/// <summary>Stores a checklist once every step of it is ticked.</summary>
internal sealed class SignList(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    private static readonly TimeSpan LongestDrying = TimeSpan.FromDays(60);

    /// <param name="Ticked">The numbers of the steps that are done, from 0 on.</param>
    /// <param name="DryUntil">As a browser's date field writes it.</param>
    internal sealed record Command(string Key, IReadOnlyList<string> Ticked, string DryUntil, string Note)
    {
        /// <summary>See <see cref="KeptOnPhone"/>.</summary>
        public string KeptSeconds { get; init; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Signed : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, ReadSignedLists.View station, ReadSignedLists.Row row, Command command, CancellationToken cancel)
    {
        if (!station.MayAct)
        {
            return new Outcome.NotAllowed();
        }

        DateTimeOffset now = clock.GetUtcNow();
        Typed typed = new();
        int open = Enumerable.Range(0, row.Steps.Count).Count(step => !command.Ticked.Contains(step.ToString(System.Globalization.CultureInfo.InvariantCulture)));
        if (open > 0)
        {
            typed.Wrong.Note(nameof(Command.Ticked), open == 1 ? "One step is not ticked. Sign when all are done." : $"{open} steps are not ticked. Sign when all are done.");
        }

        DateTimeOffset? dry = null;
        if (row.List == SignedList.CleanToMove)
        {
            dry = typed.Instant(nameof(Command.DryUntil), command.DryUntil, station.Zone);
            if (dry > now + LongestDrying || dry < now - LongestDrying)
            {
                typed.Wrong.Note(nameof(Command.DryUntil), "Write a time within 60 days of now.");
            }
        }

        string note = command.Note.Trim();
        if (note.Length > 500)
        {
            typed.Wrong.Note(nameof(Command.Note), "Shorten it to 500 characters.");
        }

        if (!FormKey.IsWhole(command.Key))
        {
            typed.Wrong.Note("", FormKey.NotWhole);
        }

        return typed.Wrong.Count > 0 ? new Outcome.Refused(typed.Wrong) : await databases.WriteAsync(db => StoreAsync(db), cancel);

        async Task<Outcome> StoreAsync(FleetDbContext db)
        {
            if (!await db.SignedChecklists.AnyAsync(signed => signed.IdempotencyKey == command.Key, cancel))
            {
                db.SignedChecklists.Add(new SignedChecklist
                {
                    StationId = station.Id, List = row.List, At = now - KeptOnPhone.Read(command.KeptSeconds), Who = viewer.Name, DryUntil = dry, Steps = string.Join('\n', row.Steps),
                    Note = note, IdempotencyKey = command.Key,
                });
            }

            return new Outcome.Signed();
        }
    }
}
