using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.SignedLists;

namespace StationFleet.Web.Fleet.Office;

/// <summary>
/// Corrects where a station stood and from when to when; roll-ups of both the old and the new time follow. Time that is final stays.
/// </summary>
internal sealed class CorrectPlacement(
    IDbContextFactory<FleetDbContext> databases, MeasurementReader measurements, MeasurementWriter writer, FleetClock clock)
{
    internal sealed class Command
    {
        public StationId Station { get; init; }

        public PlacementId Id { get; init; }

        public string Access { get; set; } = "";

        /// <summary>By the clock of the chosen access, as is the end.</summary>
        public string From { get; set; } = "";

        /// <summary>Empty while it stands there.</summary>
        public string To { get; set; } = "";
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

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        (Outcome outcome, DateTimeOffset from, DateTimeOffset? to) =
            await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel);
        if (outcome is Outcome.Saved)
        {
            await writer.RebuildAsync(command.Station, from, to, cancel);
        }

        return outcome;
    }

    private async Task<(Outcome Outcome, DateTimeOffset From, DateTimeOffset? To)> SaveAsync(
        FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Station? station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == command.Station, cancel);
        List<Placement> placements = await db.Placements.Where(row => row.StationId == command.Station).ToListAsync(cancel);
        Placement? placement = placements.SingleOrDefault(row => row.Id == command.Id);
        if (station is null || placement is null)
        {
            return (new Outcome.NotAllowed(), default, null);
        }

        AccessId? access = FormIds.Access(command.Access);
        string? zoneId = await db.Accesses.Where(row => row.Id == access).Select(row => row.TimeZone).SingleOrDefaultAsync(cancel);
        Typed typed = new();
        TimeZoneInfo zone = zoneId is null ? TimeZoneInfo.Utc : TimeZoneInfo.FindSystemTimeZoneById(zoneId);
        DateTimeOffset from = typed.Instant(nameof(Command.From), command.From, zone);
        DateTimeOffset? to = typed.InstantOrNothing(nameof(Command.To), command.To, zone);
        DateTimeOffset now = clock.GetUtcNow();
        if (zoneId is null)
        {
            typed.Wrong.Note(nameof(Command.Access), "Choose an access.");
        }

        if (from > now)
        {
            typed.Wrong.Note(nameof(Command.From), "This time has not come yet.");
        }

        if (to <= from)
        {
            typed.Wrong.Note(nameof(Command.To), "The end must lie after the start.");
        }
        else if (to > now)
        {
            typed.Wrong.Note(nameof(Command.To), "This time has not come yet.");
        }

        if (placements.Exists(other => other.Id != placement.Id && Periods.Overlap(other.From, other.To, from, to)))
        {
            typed.Wrong.Note(nameof(Command.From), "The station stood elsewhere for a part of this time. Correct that placement first.");
        }

        // The form holds whole minutes: what was not touched is not changed.
        from = IsSameMinute(placement.From, from) ? placement.From : from;
        DateTimeOffset changedFrom = placement.AccessId != access || placement.From != from
            ? Periods.Earlier(placement.From, from)
            : Periods.Earlier(placement.To ?? DateTimeOffset.MaxValue, to ?? DateTimeOffset.MaxValue);
        if (FinalTime.Refusal(await measurements.SealedUpToAsync(station.Id, cancel), changedFrom, zone) is { } final)
        {
            typed.Wrong.Note(placement.From == from ? nameof(Command.To) : nameof(Command.From), final);
        }

        Placement? before = placements.Where(other => other.Id != placement.Id && other.From < from).MaxBy(other => other.From);
        if (placement.AccessId != access && before?.AccessId != access
            && await SignedBefore.PlacingAsync(db, station, before, from, zone, cancel) is { } unsigned)
        {
            typed.Wrong.Note(nameof(Command.Access), unsigned);
        }

        if (typed.Wrong.Count > 0)
        {
            return (new Outcome.Refused(typed.Wrong), default, null);
        }

        DateTimeOffset touchedFrom = Periods.Earlier(placement.From, from);
        DateTimeOffset? touchedTo = Periods.LaterEnd(placement.To, to);
        (placement.From, placement.To) = (from, to);
        db.Entry(placement).Property(row => row.AccessId).CurrentValue = access!.Value;
        return (new Outcome.Saved(), touchedFrom, touchedTo);
    }

    private static bool IsSameMinute(DateTimeOffset a, DateTimeOffset b) => a.UtcTicks / TimeSpan.TicksPerMinute == b.UtcTicks / TimeSpan.TicksPerMinute;
}
