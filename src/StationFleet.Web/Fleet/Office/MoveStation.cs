using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.SignedLists;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Ends a station's present placement and begins another, or leaves it in transit; its roll-ups follow.</summary>
internal sealed class MoveStation(
    IDbContextFactory<FleetDbContext> databases,
    MeasurementReader measurements,
    MeasurementWriter writer,
    FleetClock clock,
    IOptions<FleetOptions> options)
{
    /// <summary>The choice that means «in transit».</summary>
    public const string InTransit = "in-transit";

    internal sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>An access, or <see cref="InTransit"/>.</summary>
        public string To { get; set; } = "";

        /// <summary>By the clock of the access it moves to; in transit, of the one it leaves.</summary>
        public string At { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Moved : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        (Outcome outcome, DateTimeOffset at) = await databases.WriteAsync(db => MoveAsync(db, viewer, command, cancel), cancel);
        if (outcome is Outcome.Moved)
        {
            await writer.RebuildAsync(command.Station, at, null, cancel);
        }

        return outcome;
    }

    private async Task<(Outcome Outcome, DateTimeOffset At)> MoveAsync(
        FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Station? station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == command.Station, cancel);
        if (station is null)
        {
            return (new Outcome.NotAllowed(), default);
        }

        List<Placement> placements = await db.Placements.Where(row => row.StationId == station.Id).OrderBy(row => row.From).ToListAsync(cancel);
        Placement? present = placements.SingleOrDefault(row => row.To is null);
        AccessId? to = FormIds.Access(command.To);
        string? toZone = await db.Accesses.Where(row => row.Id == to).Select(row => row.TimeZone).SingleOrDefaultAsync(cancel);
        DateTimeOffset now = clock.GetUtcNow();
        TimeZoneInfo zone = toZone is null
            ? await StationZones.OfAsync(db, station.Id, now, options.Value, cancel)
            : TimeZoneInfo.FindSystemTimeZoneById(toZone);

        Typed typed = new();
        DateTimeOffset at = typed.Instant(nameof(Command.At), command.At, zone);
        if (toZone is null && command.To != InTransit)
        {
            typed.Wrong.Note(nameof(Command.To), "Choose an access, or in transit.");
        }
        else if (present?.AccessId == to || (present is null && to is null))
        {
            typed.Wrong.Note(nameof(Command.To), to is null ? "It is in transit already." : "It stands there already.");
        }

        if (at > now)
        {
            typed.Wrong.Note(nameof(Command.At), "This time has not come yet. Note the move when it is done.");
        }
        else if (at < station.Created)
        {
            typed.Wrong.Note(nameof(Command.At), "The station did not exist yet at that time.");
        }
        else if (at <= present?.From || placements.Any(row => row.To > at))
        {
            typed.Wrong.Note(nameof(Command.At), "An earlier move is noted for a later time. Correct the history below instead.");
        }
        else if (FinalTime.Refusal(await measurements.SealedUpToAsync(station.Id, cancel), at, zone) is { } final)
        {
            typed.Wrong.Note(nameof(Command.At), final);
        }

        if (to is not null && await SignedBefore.PlacingAsync(db, station, placements.LastOrDefault(), at, zone, cancel) is { } unsigned)
        {
            typed.Wrong.Note(nameof(Command.To), unsigned);
        }

        if (typed.Wrong.Count > 0)
        {
            return (new Outcome.Refused(typed.Wrong), default);
        }

        if (present is not null)
        {
            present.To = at;
        }

        if (to is { } access)
        {
            db.Placements.Add(new Placement { StationId = station.Id, AccessId = access, From = at });
        }

        return (new Outcome.Moved(), at);
    }
}
