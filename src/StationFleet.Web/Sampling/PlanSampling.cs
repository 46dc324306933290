using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>How many litres and grabs a wish needs, and which of the pump-outs to come are best sampled within a budget.</summary>
internal sealed class PlanSampling(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    // How much tanks of a month differ, and one tank's estimate is uncertain: the middle of what the coverage was tried with (our choice, no source).
    private const double BetweenCv = 1;
    private const double WithinCv = 0.4;
    private const double VolumeLnSd = 0.1;

    internal sealed class Command
    {
        public string PerLitre { get; set; } = "0.1";

        /// <summary>In percent.</summary>
        public string Probability { get; set; } = "95";

        public string LitresPerGrab { get; set; } = "1";

        public string Factor { get; set; } = "2";

        /// <summary>In any unit; empty makes no calendar.</summary>
        public string Budget { get; set; } = "";

        public string CostPerSample { get; set; } = "";
    }

    /// <param name="Detect">Litres for the wanted probability.</param>
    /// <param name="ToDetect">The grabs for that.</param>
    /// <param name="ToNarrow">The grabs for the wanted interval.</param>
    /// <param name="Patchiness">What it was reckoned with.</param>
    /// <param name="Calendar">The season's calendar; null without a budget, or when last year tells of no pump-out still to come.</param>
    /// <param name="CalendarWords">What the calendar is made of, or why there is none.</param>
    internal sealed record Plan(string Detect, string ToDetect, string ToNarrow, string Patchiness, SamplingCalendar? Calendar, string CalendarWords);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Planned(Plan Plan) : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        double perLitre = typed.Number(nameof(Command.PerLitre), command.PerLitre, 0.001, 1000);
        double probability = typed.Number(nameof(Command.Probability), command.Probability, 50, 99.9, "%") / 100;
        double litres = typed.Number(nameof(Command.LitresPerGrab), command.LitresPerGrab, 0.01, 200, "L");
        double factor = typed.Number(nameof(Command.Factor), command.Factor, 1.1, 20);
        double? budget = typed.NumberOrNothing(nameof(Command.Budget), command.Budget, 0, 1e7);
        double? cost = typed.NumberOrNothing(nameof(Command.CostPerSample), command.CostPerSample, 0.01, 1e6);
        if (budget is null != cost is null)
        {
            typed.Wrong.Note(budget is null ? nameof(Command.Budget) : nameof(Command.CostPerSample), "Write both, or neither.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        (DateTimeOffset now, TimeZoneInfo zone) = (clock.GetUtcNow(), options.Value.Zone);
        DateOnly today = LocalCalendar.DateOf(now, zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        Patchiness patchiness = Learnt(await ReadEstimates.PeriodsAsync(db, viewer, today.Year, now, zone, cancel));
        ExpectedTank tank = new(perLitre, litres, patchiness, VolumeLnSd);
        (SamplingCalendar? calendar, string words) = budget is { } spend && cost is { } each
            ? CalendarOf(await ReadEstimates.PeriodsAsync(db, viewer, today.Year - 1, now, zone, cancel), today, spend, each)
            : (null, "Write a budget and what one tank’s sample costs to get a calendar.");
        return new Outcome.Planned(new Plan(
            PlanWords.ToDetect(perLitre, probability),
            GrabPlan.ToDetect(tank, probability) is { } detect ? PlanWords.Of(detect) : Beyond("that probability"),
            GrabPlan.ToNarrow(tank, factor) is { } narrow ? PlanWords.Of(narrow) : Beyond("so narrow an interval"),
            patchiness.IsMeasured
                ? string.Create(CultureInfo.InvariantCulture, $"Patchiness as measured this year, from {patchiness.Sets} tanks with replicate grabs.")
                : "Patchiness is assumed: no tank of this year has replicate grabs yet.",
            calendar, words));

        static string Beyond(string what) => $"Not even {GrabPlan.MostGrabs} grabs of this size give {what}: look through more of each.";
    }

    private static Patchiness Learnt(IReadOnlyList<PlacedPeriod> periods) => Patchiness.From(
        from placed in periods
        from organism in placed.Period.LookedFor()
        where !placed.Period.IsContaminated(organism)
        let grabs = CountedGrabs.Of(placed.Period, organism)
        where grabs is { Grabs.Count: > 1, Count: > 0 }
        select grabs.Replicates);

    // Last year's pump-outs, a year later, stand for those to come.
    private static (SamplingCalendar? Calendar, string Words) CalendarOf(
        IReadOnlyList<PlacedPeriod> lastYear, DateOnly today, double budget, double cost)
    {
        ILookup<(string, int), double> concentrations = (
            from placed in lastYear
            where placed.Place is not null
            from organism in placed.Period.LookedFor()
            let grabs = CountedGrabs.Of(placed.Period, organism)
            where grabs is not null
            select (Key: (placed.Place!, placed.Period.Month), PerLitre: grabs.Count / grabs.ExaminedLitres)).ToLookup(one => one.Key, one => one.PerLitre);
        ExpectedPumpOut[] expected =
        [
            .. from placed in lastYear
               where placed is { Place: not null, Water.Until: not null, Period.Water: not null } && placed.Period.To.AddYears(1) >= today
               select new ExpectedPumpOut(
                   placed.Period.Station, placed.Place!, placed.Period.To.AddYears(1), placed.Period.Water!.Litres,
                   concentrations[(placed.Place!, placed.Period.Month)].DefaultIfEmpty(0).Max()),
        ];
        return expected.Length == 0
            ? (null, "Last year tells of no pump-out that is still to come this year, so there is no calendar.")
            : (SamplingCalendar.Plan(expected, budget, cost, BetweenCv, WithinCv), "Last year’s pump-outs and counts, a year later, stand for those to come.");
    }
}
