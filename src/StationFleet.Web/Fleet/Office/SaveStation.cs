using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Adds a station, or changes what it is, whose it is and how it reports.</summary>
internal sealed partial class SaveStation(
    IDbContextFactory<FleetDbContext> databases, MeasurementWriter writer, StationKeys keys, FleetClock clock,
    IOptions<FleetOptions> options)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved(string Code) : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, StationFields command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        (Outcome outcome, StationId? placed, DateTimeOffset from) =
            await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel);
        keys.Forget();   // what reports are checked against may be another now
        if (placed is { } station)
        {
            await writer.RebuildAsync(station, from, null, cancel);
        }

        return outcome;
    }

    private async Task<(Outcome Outcome, StationId? Placed, DateTimeOffset From)> SaveAsync(
        FleetDbContext db, Viewer viewer, StationFields command, CancellationToken cancel)
    {
        Station? station = null;
        if (command.Id is { } id)
        {
            station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == id, cancel);
            if (station is null)
            {
                return (new Outcome.NotAllowed(), null, default);
            }
        }

        Typed typed = new();
        string code = typed.Text(nameof(StationFields.Code), command.Code, 30, "Write the station's code, such as COP-1.");
        if (code.Length > 0 && !CodePattern().IsMatch(code))
        {
            typed.Wrong.Note(nameof(StationFields.Code), "Use capital letters, digits and hyphens, such as COP-1.");
        }
        else if (await db.Stations.AnyAsync(row => row.Code == code && row.Id != (command.Id ?? new StationId(0)), cancel))
        {
            typed.Wrong.Note(nameof(StationFields.Code), "Another station has this code.");
        }

        double minutes = typed.Number(nameof(StationFields.ReportEveryMinutes), command.ReportEveryMinutes, 1, 1440, "minutes");
        (AgencyId owner, AgencyId runner) = await AgenciesAsync(db, viewer, command, typed, cancel);
        AccessId? access = FormIds.Access(command.Access);
        DateTimeOffset created = typed.Instant(nameof(StationFields.Created), command.Created, await ZoneAsync(db, command.Id, access, cancel));
        if (created > clock.GetUtcNow())
        {
            typed.Wrong.Note(nameof(StationFields.Created), "This time has not come yet.");
        }

        string accessCode = Optional(typed, nameof(StationFields.AccessCode), command.AccessCode, 60);
        string keyHolders = Optional(typed, nameof(StationFields.KeyHolders), command.KeyHolders, 200);
        if (typed.Wrong.Count > 0)
        {
            return (new Outcome.Refused(typed.Wrong), null, default);
        }

        if (station is null)
        {
            station = new Station { Code = code };
            db.Stations.Add(station);
        }

        (station.Code, station.IsPortable, station.OwnerId, station.OperatorId) = (code, command.IsPortable, owner, runner);
        (station.ReportEvery, station.HasNoClock, station.Created) = (TimeSpan.FromMinutes(Math.Round(minutes)), command.HasNoClock, created);
        (station.AccessCode, station.KeyHolders) = (accessCode, keyHolders);
        await db.SaveChangesAsync(cancel);
        if (command.Id is not null || access is null)
        {
            return (new Outcome.Saved(code), null, default);
        }

        db.Placements.Add(new Placement { StationId = station.Id, AccessId = access.Value, From = created });
        return (new Outcome.Saved(code), station.Id, created);
    }

    private static string Optional(Typed typed, string field, string text, int longest) =>
        string.IsNullOrWhiteSpace(text) ? "" : typed.Text(field, text, longest, "");

    private static async Task<(AgencyId Owner, AgencyId Operator)> AgenciesAsync(
        FleetDbContext db, Viewer viewer, StationFields command, Typed typed, CancellationToken cancel)
    {
        HashSet<AgencyId> known = [.. await db.Agencies.Select(agency => agency.Id).ToListAsync(cancel)];
        AgencyId Choose(string field, string chosen)
        {
            if (FormIds.Agency(chosen) is { } agency && known.Contains(agency))
            {
                return agency;
            }

            typed.Wrong.Note(field, "Choose an agency.");
            return default;
        }

        AgencyId owner = Choose(nameof(StationFields.Owner), command.Owner);
        AgencyId runner = Choose(nameof(StationFields.Operator), command.Operator);
        if (viewer.Agency is { } own && owner != own && runner != own)
        {
            typed.Wrong.Note(nameof(StationFields.Operator), "Your agency must stay its owner or its operator, or you could not see it any more.");
        }

        return (owner, runner);
    }

    private async Task<TimeZoneInfo> ZoneAsync(FleetDbContext db, StationId? station, AccessId? chosen, CancellationToken cancel) =>
        station is { } existing
            ? await StationZones.OfAsync(db, existing, clock.GetUtcNow(), options.Value, cancel)
            : await db.Accesses.Where(access => access.Id == chosen).Select(access => access.TimeZone).SingleOrDefaultAsync(cancel) is { } zone
                ? TimeZoneInfo.FindSystemTimeZoneById(zone)
                : options.Value.Zone;

    [GeneratedRegex("^[A-Z0-9]+(-[A-Z0-9]+)*$")]
    private static partial Regex CodePattern();
}
