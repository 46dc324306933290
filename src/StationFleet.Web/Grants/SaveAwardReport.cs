using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Writes down that a report is handed in, or the due day that the funder or pass-through named: it prevails.</summary>
public sealed class SaveAwardReport(IDbContextFactory<FleetDbContext> databases)
{
    public sealed class Command
    {
        public required AwardId Award { get; init; }

        public DateOnly PeriodEnd { get; init; }

        public bool IsFinal { get; init; }

        /// <summary>Empty goes by the terms.</summary>
        public string NamedDue { get; set; } = "";

        /// <summary>Empty: not yet.</summary>
        public string HandedIn { get; set; } = "";
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
        DateOnly? due = DayOrNothing(typed, nameof(Command.NamedDue), command.NamedDue);
        DateOnly? handedIn = DayOrNothing(typed, nameof(Command.HandedIn), command.HandedIn);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        return await databases.WriteAsync(
            async db =>
            {
                IReadOnlyList<DueDate> reports = await DueDateReader.ReadAsync(db, cancel);
                if (!reports.Any(report => report.Award == command.Award && report.PeriodEnd == command.PeriodEnd && report.IsFinal == command.IsFinal))
                {
                    return new Outcome.NotAllowed();
                }

                AwardReport known = await DueDateReader.KnownAsync(db, command.Award, command.PeriodEnd, command.IsFinal, cancel);

                // Another due day has reminders of its own.
                known.Reminded = known.NamedDue == due ? known.Reminded : null;
                (known.NamedDue, known.HandedIn) = (due, handedIn);
                return (Outcome)new Outcome.Saved();
            },
            cancel);
    }

    private static DateOnly? DayOrNothing(Typed typed, string field, string text) =>
        string.IsNullOrWhiteSpace(text) ? null : typed.Day(field, text, new DateOnly(1990, 1, 1), new DateOnly(2100, 1, 1));
}
