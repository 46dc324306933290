using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Guiding;

/// <summary>Changes a rule's cautions and steps and keeps who did it, when and why. A default caution is left out only with a reason.</summary>
public sealed class SaveGuidance(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    private const int LongestLine = 300;
    private const int MostLines = 20;

    public sealed class Command
    {
        public Rule Rule { get; init; }

        /// <summary>One to a line; the default steps as they are mean the defaults.</summary>
        public string Steps { get; set; } = "";

        /// <summary>The agency's own cautions, one to a line.</summary>
        public string Added { get; set; } = "";

        /// <summary>The default cautions that are left out.</summary>
        public HashSet<string> Removed { get; init; } = [];

        public string Reason { get; set; } = "";

        /// <summary>A form that shows what holds.</summary>
        public static Command Of(ReadGuidance.Row row) => new()
        {
            Rule = row.Rule, Steps = string.Join('\n', row.Steps), Added = string.Join('\n', row.Edit.AddedCautions),
            Removed = [.. row.Edit.RemovedCautions],
        };

        /// <summary>A form that brings the defaults back.</summary>
        public static Command Default(Rule rule) => new() { Rule = rule, Steps = string.Join('\n', Checklists.For(rule)), Reason = "Back to the defaults." };
    }

    /// <summary>Biologists and administrators of the whole fleet: every agency's technicians read these words.</summary>
    public static bool MayChange(Viewer viewer) => viewer.MayChangeFleet() && viewer.Agency is null;

    internal async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => MayChange(viewer)
        ? await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel)
        : new FormOutcome.NotAllowed();

    private async Task<FormOutcome> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        string[] steps = Lines(typed, nameof(Command.Steps), command.Steps);
        string[] added = [.. Lines(typed, nameof(Command.Added), command.Added).Except(Cautions.For(command.Rule))];
        string[] removed = [.. Cautions.For(command.Rule).Where(command.Removed.Contains)];
        string reason = command.Reason.Trim();
        GuidanceEdit before = (await db.GuidanceAsync(cancel)).EditOf(command.Rule);
        if (steps.Length == 0)
        {
            typed.Wrong.Note(nameof(Command.Steps), "Write at least one step.");
        }

        if (removed.Except(before.RemovedCautions).Any() && reason.Length == 0)
        {
            typed.Wrong.Note(nameof(Command.Reason), "Say why a default caution is left out: people may get hurt by what it warns of.");
        }
        else if (reason.Length > 500)
        {
            typed.Wrong.Note(nameof(Command.Reason), "Shorten it to 500 characters.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        GuidanceEdit after = new(steps.SequenceEqual(Checklists.For(command.Rule)) ? null : steps, added, removed);
        if (!IsSame(before, after))
        {
            db.GuidanceChanges.Add(new GuidanceChange
            {
                Rule = command.Rule, At = clock.GetUtcNow(), Who = viewer.Name, Reason = reason, Steps = after.Steps is null ? null : string.Join('\n', after.Steps),
                AddedCautions = string.Join('\n', added), RemovedCautions = string.Join('\n', removed),
            });
        }

        return new FormOutcome.Saved();
    }

    private static string[] Lines(Typed typed, string field, string text)
    {
        string[] lines = [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Distinct()];
        if (lines.Length > MostLines)
        {
            typed.Wrong.Note(field, $"At most {MostLines} lines: who reads more than that at a ramp?");
        }
        else if (lines.Any(line => line.Length > LongestLine))
        {
            typed.Wrong.Note(field, $"Shorten each line to {LongestLine} characters.");
        }

        return lines;
    }

    private static bool IsSame(GuidanceEdit one, GuidanceEdit other) =>
        (one.Steps ?? []).SequenceEqual(other.Steps ?? []) && one.AddedCautions.SequenceEqual(other.AddedCautions) && one.RemovedCautions.SequenceEqual(other.RemovedCautions);
}
