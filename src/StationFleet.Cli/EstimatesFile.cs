using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;

namespace StationFleet.Cli;

/// <summary>Estimates as a file; docs/estimates-file.schema.json describes it.</summary>
internal sealed record EstimatesFile(
    IReadOnlyList<EstimatesFile.Estimate> Estimates,
    IReadOnlyList<EstimatesFile.Season> Seasons,
    IReadOnlyList<EstimatesFile.Ranking> Months,
    RatioEstimate? UsesPerBoat,
    StratifiedShare? ShareOfLeavingBoats,
    SamplingCalendar? Calendar,
    IReadOnlyList<EstimatesFile.TankPlan> TankPlans)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase), new FiniteOrNull() },
    };

    private const double WantedDetection = 0.95;
    private const int MostGrabsTold = 8;

    internal sealed record Label(string Code, string Words);

    internal sealed record PatchinessUsed(bool IsMeasured, double MeanCv, int Sets, int Grabs, double ChiSquare, int Freedom, double? Chance);

    internal sealed record Steps(
        PatchinessUsed Patchiness, double EqualGrabs, CountLimits Counted, CountLimits Spread, double LnSd, double ShareExamined, double PerCount);

    internal sealed record Estimate(
        string Period,
        string Station,
        DateOnly From,
        DateOnly To,
        string Taxon,
        string? LifeStage,
        int Count,
        double ExaminedLitres,
        IReadOnlyList<GrabCount> Grabs,
        WithheldReason? Withheld,
        Bounded? Organisms,
        Bounded? PerLitre,
        Bounded? CountingOnly,
        Steps? Steps,
        IReadOnlyList<Label> Labels,
        string Sentence,
        string? Basis,
        IReadOnlyList<string> HowMade);

    internal sealed record Season(int Year, SeasonTotal Total, string Sampled, string Sentence, IReadOnlyList<string> LabelWords);

    internal sealed record Ranking(int Year, MonthRanking Result, string Sentence, string? ForThePublic, string? ToTellMore);

    internal sealed record Option(GrabPlan Plan, string Sentence);

    internal sealed record TankPlan(string Taxon, string? LifeStage, bool PatchinessIsMeasured, string ToDetect, IReadOnlyList<Option> Options);

    public string ToJson() => JsonSerializer.Serialize(this, Options);

    public static EstimatesFile Of(ChainsFile chains)
    {
        IReadOnlyList<RemovalEstimate> estimates = SeasonEstimates.Of(chains.Periods, chains.GroupOf);
        List<Season> seasons = [];
        List<Ranking> rankings = [];
        foreach (IGrouping<int, TankPeriod> year in chains.Periods.GroupBy(period => period.Year).OrderBy(year => year.Key))
        {
            TankPeriod[] periods = [.. year];
            HashSet<string> ids = [.. periods.Select(period => period.Id)];
            foreach (Organism organism in periods.SelectMany(period => period.LookedFor()).Distinct())
            {
                SeasonTotal total = SeasonTotal.Of(organism, periods, estimates.Where(one => ids.Contains(one.Period.Id)));
                seasons.Add(new Season(
                    year.Key,
                    total,
                    SeasonTotalWords.Sampled(total),
                    SeasonTotalWords.Sentence(total, chains.Units),
                    [.. total.Labels.Select(label => SeasonTotalWords.Label(label, total))]));
                rankings.AddRange(Enum.GetValues<MonthMeasure>().Select(measure => MonthRanking.Of(organism, measure, periods)).Select(ranking => new Ranking(
                    year.Key, ranking, MonthWords.Sentence(ranking), MonthWords.ForThePublic(ranking), MonthWords.ToTellMore(ranking))));
            }
        }

        return new EstimatesFile(
            [.. estimates.Select(estimate => Of(estimate, chains.Units))],
            seasons,
            rankings,
            RatioEstimate.Of([.. chains.CountShifts.Select(shift => ((double)shift.Boats, (double)shift.Uses))]),
            ShareOf(chains.CountShifts),
            chains.PlanSeason is { } plan
                ? SamplingCalendar.Plan(plan.PumpOuts, plan.Budget, plan.CostPerSample, plan.BetweenCv, plan.WithinCv)
                : null,
            [.. chains.PlanTanks.Select(tank => Of(tank, estimates))]);
    }

    // The file tells nothing of hours, so that all shifts are of one kind.
    private static StratifiedShare? ShareOf(IEnumerable<CountShift> shifts) => StratifiedShare.Of(
        [new ShareStratum(1, [.. shifts.Where(shift => shift.Leaving is not null).Select(shift => new ShareCluster(shift.Boats, shift.Leaving!.Value))])]);

    private static TankPlan Of(TankToPlan tank, IReadOnlyList<RemovalEstimate> estimates)
    {
        Organism organism = new(tank.Taxon, tank.LifeStage);
        Patchiness patchiness = estimates.OfType<RemovalEstimate.Made>().LastOrDefault(one => one.Organism == organism)?.Steps.Patchiness ?? Patchiness.Assumed;
        ExpectedTank expected = new(tank.PerLitre, tank.LitresPerGrab, patchiness, tank.VolumeLnSd);
        return new TankPlan(
            tank.Taxon,
            tank.LifeStage,
            patchiness.IsMeasured,
            PlanWords.ToDetect(tank.PerLitre, WantedDetection),
            [.. Enumerable.Range(1, MostGrabsTold).Select(grabs => GrabPlan.Of(expected, grabs)).Select(one => new Option(one, PlanWords.Of(one)))]);
    }

    private static Estimate Of(RemovalEstimate estimate, UnitSystem units)
    {
        RemovalEstimate.Made? made = estimate as RemovalEstimate.Made;
        return new Estimate(
            estimate.Period.Id,
            estimate.Period.Station,
            estimate.Period.From,
            estimate.Period.To,
            estimate.Organism.Taxon,
            estimate.Organism.LifeStage,
            estimate.Grabs.Count,
            estimate.Grabs.ExaminedLitres,
            estimate.Grabs.Grabs,
            (estimate as RemovalEstimate.Withheld)?.Reason,
            made?.Organisms,
            made?.PerLitre,
            made?.CountingOnly,
            made is null ? null : Of(made.Steps),
            [.. (made?.Labels ?? []).Select(label => new Label(JsonNamingPolicy.CamelCase.ConvertName(label.ToString()), EstimateWords.Label(label)))],
            EstimateWords.Sentence(estimate, units),
            made is null ? null : EstimateWords.Basis(made),
            made is null ? [] : EstimateWords.Steps(made, units));
    }

    private static Steps Of(EstimateSteps steps)
    {
        Patchiness known = steps.Patchiness;
        return new Steps(
            new PatchinessUsed(
                known.IsMeasured, known.MeanCv, known.Sets, known.Grabs, known.Dispersion.ChiSquare, known.Dispersion.Freedom, known.Dispersion.Chance),
            steps.EqualGrabs,
            steps.Counted,
            steps.Spread,
            steps.LnSd,
            steps.ShareExamined,
            steps.PerCount);
    }
}
