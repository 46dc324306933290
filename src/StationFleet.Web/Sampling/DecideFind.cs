using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Takes a new find one step: presumptive → confirmed → may be told; or not confirmed. And logs who was told.</summary>
internal sealed class DecideFind(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public int Find { get; init; }

        public int Version { get; init; }

        /// <summary>The new state, or «Told».</summary>
        public string Act { get; set; } = "";

        /// <summary>Whom, and how.</summary>
        public string Told { get; set; } = "";

        public string Note { get; set; } = "";
    }

    public const string Tell = "Told";

    /// <summary>The states that may follow a state.</summary>
    public static IReadOnlyList<FindState> After(FindState state) => state switch
    {
        FindState.Presumptive => [FindState.Confirmed, FindState.NotConfirmed],
        FindState.Confirmed => [FindState.Releasable, FindState.NotConfirmed],
        _ => [],
    };

    public async Task<SampleAnswer> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => viewer.MayChangeFleet()
        ? await databases.WriteAsync(db => DecideAsync(db, viewer, command, cancel), cancel)
        : new SampleAnswer.NotAllowed();

    private async Task<SampleAnswer> DecideAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        FindId id = new(command.Find);
        if (await NewFinds.VisibleTo(db, viewer).SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } find)
        {
            return new SampleAnswer.NotAllowed();
        }

        Typed typed = new();
        string? note = string.IsNullOrWhiteSpace(command.Note) ? null : typed.Text(nameof(Command.Note), command.Note, 2000, "");
        FindState? state = null;
        string? told = null;
        if (command.Act == Tell)
        {
            told = typed.Text(nameof(Command.Told), command.Told, 200, "Write who was told, and how.");
        }
        else if (Enum.TryParse(command.Act, out FindState wanted) && After(find.State).Contains(wanted))
        {
            state = wanted;
            if (note is null)
            {
                typed.Wrong.Note(nameof(Command.Note), wanted == FindState.Releasable ? "Write who lets it be told." : "Write who verified it, and how.");
            }
        }
        else
        {
            typed.Wrong.Note(nameof(Command.Act), "Choose what happened.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        if (state is { } next)
        {
            if (find.Version != command.Version)
            {
                return new SampleAnswer.Changed();
            }

            find.State = next;
            find.Version++;
            if (next == FindState.Releasable)
            {
                await KnowAsync(db, find, note!, cancel);
            }
        }

        db.FindEvents.Add(new FindEvent { FindId = id, At = clock.GetUtcNow(), Who = viewer.Name, Became = state, Told = told, Note = note });
        return new SampleAnswer.Saved();
    }

    // From now on it is known from that water.
    private async Task KnowAsync(FleetDbContext db, NewFind find, string basis, CancellationToken cancel)
    {
        DateTimeOffset taken = (await db.Samples.AsNoTracking().SingleAsync(sample => sample.Id == find.SampleId, cancel)).TakenAt;
        if (find.Water != NewFind.NoWater && !await db.KnownTaxa.AnyAsync(known => known.TaxonId == find.TaxonId && known.Water == find.Water, cancel))
        {
            db.KnownTaxa.Add(new KnownTaxon
            {
                TaxonId = find.TaxonId, Water = find.Water, Since = LocalCalendar.DateOf(taken, options.Value.Zone), Basis = basis.Length > 200 ? basis[..200] : basis,
            });
        }
    }
}
