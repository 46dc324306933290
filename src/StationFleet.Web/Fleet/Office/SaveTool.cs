using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Hangs a tool on a station, changes it, or notes that it was taken off.</summary>
internal sealed class SaveTool(
    IDbContextFactory<FleetDbContext> databases, MeasurementWriter writer, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        public StationId Station { get; init; }

        /// <summary>The tool to change; null adds one.</summary>
        public int? Id { get; init; }

        public string Slug { get; set; } = "";

        public string Kind { get; set; } = nameof(ToolKind.Vacuum);

        public string Name { get; set; } = "";

        public string Installed { get; set; } = "";

        public string Removed { get; set; } = "";

        public string IdleAfterDays { get; set; } = "";

        public string UsesWrapAt { get; set; } = "";
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

        HashSet<string> toRecount = new(StringComparer.Ordinal);
        Outcome outcome = await databases.WriteAsync(db => SaveAsync(db, viewer, command, toRecount, cancel), cancel);
        foreach (string slug in toRecount)
        {
            await writer.RecountAsync(command.Station, slug, cancel);
        }

        return outcome;
    }

    private async Task<Outcome> SaveAsync(
        FleetDbContext db, Viewer viewer, Command command, HashSet<string> toRecount, CancellationToken cancel)
    {
        Station? station = await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Id == command.Station, cancel);
        List<Tool> tools = await db.Tools.Where(row => row.StationId == command.Station).ToListAsync(cancel);
        Tool? tool = command.Id is null ? null : tools.SingleOrDefault(row => row.Id == command.Id);
        if (station is null || (command.Id is not null && tool is null))
        {
            return new Outcome.NotAllowed();
        }

        DateTimeOffset now = clock.GetUtcNow();
        TimeZoneInfo zone = await StationZones.OfAsync(db, station.Id, now, options.Value, cancel);
        Typed typed = new();
        string slug = typed.Slug(nameof(Command.Slug), command.Slug, 40, "Write the tool's name in reports, such as vacuum.");
        string name = typed.Text(nameof(Command.Name), command.Name, 80, "Write the name that pages show.");
        double? idleAfterDays = typed.NumberOrNothing(nameof(Command.IdleAfterDays), command.IdleAfterDays, 0.5, 120, "days");
        double? usesWrapAt = typed.NumberOrNothing(nameof(Command.UsesWrapAt), command.UsesWrapAt, 16, 1L << 32, "uses");
        DateTimeOffset installed = typed.Instant(nameof(Command.Installed), command.Installed, zone);
        DateTimeOffset? removed = typed.InstantOrNothing(nameof(Command.Removed), command.Removed, zone);
        if (!Enum.TryParse(command.Kind, out ToolKind kind) || !Enum.IsDefined(kind))
        {
            typed.Wrong.Note(nameof(Command.Kind), "Choose what the tool is for.");
        }

        if (installed > now)
        {
            typed.Wrong.Note(nameof(Command.Installed), "This time has not come yet.");
        }

        if (removed <= installed)
        {
            typed.Wrong.Note(nameof(Command.Removed), "It must come off after it was hung up.");
        }
        else if (removed > now)
        {
            typed.Wrong.Note(nameof(Command.Removed), "This time has not come yet.");
        }

        if (tools.Any(other => other.Id != command.Id && other.Slug == slug && Periods.Overlap(other.Installed, other.Removed, installed, removed)))
        {
            typed.Wrong.Note(nameof(Command.Slug), "Another tool here has this name at that time. A tool that was taken off gives its name free.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (tool is null)
        {
            tool = new Tool { StationId = station.Id, Slug = slug, Name = name };
            db.Tools.Add(tool);
        }

        if ((tool.UsesWrapAt ?? usesWrapAt) is not null)
        {
            toRecount.UnionWith([tool.Slug, slug]);
        }

        (tool.Slug, tool.Name, tool.Kind, tool.Installed, tool.Removed) = (slug, name, kind, installed, removed);
        (tool.IdleAfterDays, tool.UsesWrapAt) = (idleAfterDays, usesWrapAt);
        return new Outcome.Saved();
    }
}
