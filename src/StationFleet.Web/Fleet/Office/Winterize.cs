using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.SignedLists;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Lays a station up for the winter from an instant on, or puts it in service again: whichever it is not.</summary>
internal sealed class Winterize(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>Lay it up, or put it in service.</summary>
        public bool LayUp { get; init; }

        public string At { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Done : Outcome;

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
        if (station is null)
        {
            return new Outcome.NotAllowed();
        }

        DateTimeOffset now = clock.GetUtcNow();
        Typed typed = new();
        TimeZoneInfo zone = await StationZones.OfAsync(db, station.Id, now, options.Value, cancel);
        DateTimeOffset at = typed.Instant(nameof(Command.At), command.At, zone);
        List<WinterStorage> winters = await db.WinterStorages.Where(row => row.StationId == station.Id).ToListAsync(cancel);
        WinterStorage? present = winters.SingleOrDefault(row => row.To is null);
        if (at > now)
        {
            typed.Wrong.Note(nameof(Command.At), "This time has not come yet. Note it when it is done.");
        }
        else if (command.LayUp == (present is not null))
        {
            typed.Wrong.Note(nameof(Command.At), command.LayUp ? "It is laid up already." : "It is in service already.");
        }
        else if (command.LayUp && winters.Exists(row => row.To > at))
        {
            typed.Wrong.Note(nameof(Command.At), "It was laid up then: it went back into service later.");
        }
        else if (!command.LayUp && at <= present?.From)
        {
            typed.Wrong.Note(nameof(Command.At), "It was laid up after that time.");
        }

        if (!command.LayUp && present is not null && await SignedBefore.OpeningAsync(db, station, present.From, at, zone, cancel) is { } unsigned)
        {
            typed.Wrong.Note(nameof(Command.At), unsigned);
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (present is not null)
        {
            present.To = at;
        }
        else
        {
            db.WinterStorages.Add(new WinterStorage { StationId = station.Id, From = at });
        }

        return new Outcome.Done();
    }
}
