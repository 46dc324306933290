using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Says which waste tank a station has from an instant on, or corrects what was said.</summary>
internal sealed class SaveTank(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command : TankFields
    {
        public StationId Station { get; init; }
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
        Station? station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == command.Station, cancel);
        List<StationTank> tanks = await db.StationTanks.Where(row => row.StationId == command.Station).ToListAsync(cancel);
        StationTank? tank = command.Id is null ? null : tanks.SingleOrDefault(row => row.Id == command.Id);
        if (station is null || (command.Id is not null && tank is null))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        DateTimeOffset from = typed.Instant(
            nameof(Command.From), command.From, await StationZones.OfAsync(db, station.Id, clock.GetUtcNow(), options.Value, cancel));
        TankSetup said = TypedTank.Read(command, options.Value.Units, typed);
        if (from < station.Created)
        {
            typed.Wrong.Note(nameof(Command.From), "The station did not exist yet at that time.");
        }

        if (tanks.Any(other => other.Id != command.Id && other.From == from))
        {
            typed.Wrong.Note(nameof(Command.From), "Another tank is set up from the same time. Correct that one.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (tank is null)
        {
            tank = new StationTank { StationId = station.Id };
            db.StationTanks.Add(tank);
        }

        tank.Take(from, said);
        return new Outcome.Saved();
    }
}
