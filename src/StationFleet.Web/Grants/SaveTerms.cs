using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Reads and changes the funders' terms: names, thresholds and periods.</summary>
public sealed class SaveTerms(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>A number of a set of terms that people change.</summary>
    /// <param name="Key">Its name in forms.</param>
    /// <param name="Label">Its name for people.</param>
    /// <param name="Least">The least that is taken.</param>
    /// <param name="Most">The most that is taken.</param>
    public sealed record Period(string Key, string Label, int Least, int Most, Func<AwardTerms, int> Read, Func<AwardTerms, int, AwardTerms> With);

    public static IReadOnlyList<Period> Periods { get; } =
    [
        new("Quarter", "Report of a quarter due, days after", 1, 730, terms => terms.QuarterDueDays, (terms, days) => terms with { QuarterDueDays = days }),
        new("HalfYear", "Report of half a year due, days after", 1, 730, terms => terms.HalfYearDueDays, (terms, days) => terms with { HalfYearDueDays = days }),
        new("Year", "Report of a year due, days after", 1, 730, terms => terms.YearDueDays, (terms, days) => terms with { YearDueDays = days }),
        new("Final", "Final report of a recipient due, days after", 1, 730, terms => terms.FinalDueDays, (terms, days) => terms with { FinalDueDays = days }),
        new("FinalSub", "Final report of a subrecipient due, days after", 1, 730, terms => terms.FinalDueDaysSubrecipient, (terms, days) => terms with { FinalDueDaysSubrecipient = days }),
        new("Instructions", "You decide on equipment without an answer, days after asking", 1, 730, terms => terms.InstructionsWithinDays, (terms, days) => terms with { InstructionsWithinDays = days }),
        new("Inventory", "An inventory at least every so many months", 1, 120, terms => terms.InventoryEveryMonths, (terms, months) => terms with { InventoryEveryMonths = months }),
        new("Keep", "Keep records for so many years", 1, 50, terms => terms.KeepYears, (terms, years) => terms with { KeepYears = years }),
    ];

    public sealed class Command
    {
        /// <summary>The set to change; null adds one.</summary>
        public int? Id { get; init; }

        public string Name { get; set; } = "";

        public string NumberName { get; set; } = "Award number";

        public string EquipmentFrom { get; set; } = "";

        public string NothingOwedUpTo { get; set; } = "";

        public string MostForHandling { get; set; } = "";

        public string HandlingPercent { get; set; } = "10";

        public string Source { get; set; } = "";

        /// <summary>The numbers of <see cref="SaveTerms.Periods"/>, by key.</summary>
        public Dictionary<string, string> Periods { get; init; } =
            SaveTerms.Periods.ToDictionary(period => period.Key, period => period.Read(new AwardTerms { Name = "" }).ToString(CultureInfo.InvariantCulture));

        public static Command Of(AwardTermsSet set)
        {
            ArgumentNullException.ThrowIfNull(set);
            AwardTerms terms = set.Terms;
            return new Command
            {
                Id = set.Id,
                Name = terms.Name,
                NumberName = terms.NumberName,
                EquipmentFrom = TypedMoney.ForField(terms.EquipmentFrom),
                NothingOwedUpTo = TypedMoney.ForField(terms.NothingOwedUpTo),
                MostForHandling = TypedMoney.ForField(terms.MostForHandling),
                HandlingPercent = (terms.HandlingShare.Hundredths / 100m).ToString("0.##", CultureInfo.InvariantCulture),
                Source = terms.Source,
                Periods = SaveTerms.Periods.ToDictionary(period => period.Key, period => period.Read(terms).ToString(CultureInfo.InvariantCulture)),
            };
        }
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

    public async Task<IReadOnlyList<AwardTermsSet>> ListAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.AwardTerms.AsNoTracking().OrderBy(set => set.Id).ToListAsync(cancel);
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || viewer.Agency is not null)
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        AwardTerms terms = new()
        {
            Name = typed.Text(nameof(Command.Name), command.Name, 120, "Write what these terms are called."),
            NumberName = typed.Text(nameof(Command.NumberName), command.NumberName, 40, "Write what the funder calls an award's number."),
            EquipmentFrom = TypedMoney.Read(typed, nameof(Command.EquipmentFrom), command.EquipmentFrom),
            NothingOwedUpTo = TypedMoney.Read(typed, nameof(Command.NothingOwedUpTo), command.NothingOwedUpTo),
            MostForHandling = TypedMoney.Read(typed, nameof(Command.MostForHandling), command.MostForHandling),
            HandlingShare = Percentage.Of((decimal)Finite(typed.Number(nameof(Command.HandlingPercent), command.HandlingPercent, 0, 100, "%"))),
            Source = command.Source.Trim(),
        };
        foreach (Period period in Periods)
        {
            double number = typed.Number(period.Key, command.Periods.GetValueOrDefault(period.Key), period.Least, period.Most);
            terms = double.IsInteger(number) ? period.With(terms, (int)number) : terms;
            if (double.IsFinite(number) && !double.IsInteger(number))
            {
                typed.Wrong.Note(period.Key, "Write a whole number.");
            }
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        return await databases.WriteAsync(
            async db =>
            {
                if (command.Id is not { } id)
                {
                    db.AwardTerms.Add(new AwardTermsSet { Terms = terms });
                    return new Outcome.Saved();
                }

                if (await db.AwardTerms.SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } set)
                {
                    return new Outcome.NotAllowed();
                }

                set.Terms = terms;
                return (Outcome)new Outcome.Saved();
            },
            cancel);
    }

    private static double Finite(double value) => double.IsFinite(value) ? value : 0;
}
