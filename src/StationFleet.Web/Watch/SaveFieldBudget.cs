using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>Sets how many visits people can make that nobody planned; only people of the whole fleet may.</summary>
internal sealed class SaveFieldBudget(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        public string Technicians { get; set; } = "";

        public string FieldHoursPerWeek { get; set; } = "";

        /// <summary>In percent.</summary>
        public string UnplannedShare { get; set; } = "";

        public string HoursPerVisit { get; set; } = "";

        public string StaleAfterDays { get; set; } = "";

        public static Command Of(FieldBudget budget) => new()
        {
            Technicians = RuleTexts.Number(budget.Technicians),
            FieldHoursPerWeek = RuleTexts.Number(budget.FieldHoursPerWeek),
            UnplannedShare = RuleTexts.Percent(budget.UnplannedShare),
            HoursPerVisit = RuleTexts.Number(budget.HoursPerVisit),
            StaleAfterDays = RuleTexts.Number(budget.StaleAfterDays),
        };
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

    public static bool MayChange(Viewer viewer) => viewer.MayChangeFleet() && viewer.Agency is null;

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!MayChange(viewer))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        FieldBudget budget = new(
            Whole(typed, nameof(Command.Technicians), command.Technicians, 500),
            typed.Number(nameof(Command.FieldHoursPerWeek), command.FieldHoursPerWeek, 1, 80, "hours"),
            typed.Number(nameof(Command.UnplannedShare), command.UnplannedShare, 1, 100, "%") / 100,
            typed.Number(nameof(Command.HoursPerVisit), command.HoursPerVisit, 0.25, 24, "hours"),
            Whole(typed, nameof(Command.StaleAfterDays), command.StaleAfterDays, 365));
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        return await databases.WriteAsync<Outcome>(
            async db =>
            {
                await FieldBudgets.WriteAsync(db, budget, cancel);
                return new Outcome.Saved();
            },
            cancel);
    }

    private static int Whole(Typed typed, string field, string text, int most)
    {
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value >= 1 && value <= most)
        {
            return value;
        }

        typed.Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Write a whole number from 1 to {most}."));
        return 1;
    }
}
