using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Adds an access or changes it; a new time zone moves local days, so the roll-ups of what stood there are made anew.</summary>
public sealed class SaveAccess(IDbContextFactory<FleetDbContext> databases, MeasurementWriter writer)
{
    public sealed class Command
    {
        /// <summary>The access to change; null adds one.</summary>
        public AccessId? Id { get; init; }

        public string Name { get; set; } = "";

        public string Slug { get; set; } = "";

        public string Water { get; set; } = "";

        public string Host { get; set; } = "";

        public string TimeZone { get; set; } = "";

        public string Latitude { get; set; } = "";

        public string Longitude { get; set; } = "";
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Saved(string Slug) : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        (Outcome outcome, IReadOnlyList<Placement> moved) = await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel);
        foreach (Placement placement in moved)
        {
            await writer.RebuildAsync(placement.StationId, placement.From, placement.To, cancel);
        }

        return outcome;
    }

    private static async Task<(Outcome Outcome, IReadOnlyList<Placement> Moved)> SaveAsync(
        FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Access? access = command.Id is { } id ? await db.Accesses.SingleOrDefaultAsync(row => row.Id == id, cancel) : null;
        if (command.Id is not null && (access is null || !AccessRights.MayChange(viewer, access)))
        {
            return (new Outcome.NotAllowed(), []);
        }

        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write the access's name.");
        string slug = typed.Slug(nameof(Command.Slug), command.Slug, 60, "Write its name in addresses, such as dam-road.");
        string water = typed.Text(nameof(Command.Water), command.Water, 120, "Write the water it leads to.");
        double latitude = typed.Number(nameof(Command.Latitude), command.Latitude, -90, 90, "degrees");
        double longitude = typed.Number(nameof(Command.Longitude), command.Longitude, -180, 180, "degrees");
        string zone = Zone(typed, command.TimeZone);
        if (await db.Accesses.AnyAsync(row => row.Slug == slug && row.Id != (command.Id ?? new AccessId(0)), cancel))
        {
            typed.Wrong.Note(nameof(Command.Slug), "Another access has this name.");
        }

        AgencyId? host = FormIds.Agency(command.Host);
        if (host is null || !await db.Agencies.AnyAsync(agency => agency.Id == host, cancel))
        {
            typed.Wrong.Note(nameof(Command.Host), "Choose the agency that hosts it.");
        }
        else if (viewer.Agency is { } own && host != own)
        {
            typed.Wrong.Note(nameof(Command.Host), "Your account may only manage accesses that your own agency hosts.");
        }

        if (typed.Wrong.Count > 0)
        {
            return (new Outcome.Refused(typed.Wrong), []);
        }

        IReadOnlyList<Placement> moved = access is not null && access.TimeZone != zone
            ? await db.Placements.AsNoTracking().Where(placement => placement.AccessId == access.Id).ToListAsync(cancel)
            : [];
        if (access is null)
        {
            access = new Access { Name = name, Slug = slug, Water = water, TimeZone = zone };
            db.Accesses.Add(access);
        }

        (access.Name, access.Slug, access.Water, access.HostId) = (name, slug, water, host!.Value);
        (access.TimeZone, access.Latitude, access.Longitude) = (zone, latitude, longitude);
        return (new Outcome.Saved(slug), moved);
    }

    private static string Zone(Typed typed, string written)
    {
        string zone = typed.Text(nameof(Command.TimeZone), written, 60, "Write its time zone, such as America/Boise.");
        if (zone.Length > 0 && (!TimeZoneInfo.TryFindSystemTimeZoneById(zone, out TimeZoneInfo? found) || found.Id != zone
            || TimeZoneInfo.TryConvertWindowsIdToIanaId(zone, out _)))
        {
            typed.Wrong.Note(nameof(Command.TimeZone), "This is not the name of a time zone. Write one such as America/Boise.");
        }

        return zone;
    }
}
