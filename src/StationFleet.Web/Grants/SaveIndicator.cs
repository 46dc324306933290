using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Adds a line to an award's indicator table, corrects it or removes it.</summary>
public sealed class SaveIndicator(IDbContextFactory<FleetDbContext> databases)
{
    public sealed class Command
    {
        /// <summary>The line to correct; null adds one.</summary>
        public int? Id { get; init; }

        public required AwardId Award { get; init; }

        public string Label { get; set; } = "";

        public string Description { get; set; } = "";

        /// <summary>The key of a season figure; empty when the actual is written.</summary>
        public string Figure { get; set; } = "";

        public string Target { get; set; } = "";

        public string Written { get; set; } = "";

        public string Unit { get; set; } = "";

        public string Note { get; set; } = "";
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Saved : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || viewer.Agency is not null)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string label = typed.Text(nameof(Command.Label), command.Label, 40, "Write a label, such as B-01.");
        string? figure = command.Figure.Length == 0 ? null : command.Figure;
        if (figure is not null && SeasonDefinitions.All.All(known => known.Key != figure))
        {
            typed.Wrong.Note(nameof(Command.Figure), "Choose a figure of the list.");
        }

        if (figure is null && string.IsNullOrWhiteSpace(command.Description))
        {
            typed.Wrong.Note(nameof(Command.Description), "Write what it counts.");
        }

        double? target = typed.NumberOrNothing(nameof(Command.Target), command.Target, -1e12, 1e12);
        double? written = figure is null ? typed.NumberOrNothing(nameof(Command.Written), command.Written, -1e12, 1e12) : null;
        return await databases.WriteAsync(
            async db =>
            {
                AwardIndicator? row = command.Id is { } id
                    ? await db.AwardIndicators.SingleOrDefaultAsync(line => line.Id == id && line.AwardId == command.Award, cancel)
                    : null;
                if ((command.Id is not null && row is null) || !await db.Awards.AnyAsync(award => award.Id == command.Award, cancel))
                {
                    return new Outcome.NotAllowed();
                }

                if (await db.AwardIndicators.AnyAsync(line => line.AwardId == command.Award && line.Label == label && line.Id != (command.Id ?? 0), cancel))
                {
                    typed.Wrong.Note(nameof(Command.Label), "Another line has this label.");
                }

                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                if (row is null)
                {
                    row = new AwardIndicator { AwardId = command.Award, Label = label, Description = "" };
                    db.AwardIndicators.Add(row);
                }

                (row.Label, row.Description, row.Figure, row.Target, row.Written) = (label, command.Description.Trim(), figure, target, written);
                (row.Unit, row.Note) = (figure is null ? command.Unit.Trim() : "", command.Note.Trim());
                return (Outcome)new Outcome.Saved();
            },
            cancel);
    }

    public async Task<Outcome> RemoveAsync(Viewer viewer, AwardId award, int id, CancellationToken cancel) =>
        !viewer.MayKeepBooks() || viewer.Agency is not null ? new Outcome.NotAllowed() : await databases.WriteAsync(
            async db => await db.AwardIndicators.Where(line => line.Id == id && line.AwardId == award).ExecuteDeleteAsync(cancel) > 0
                ? (Outcome)new Outcome.Saved()
                : new Outcome.NotAllowed(),
            cancel);
}
