using StationFleet.Domain.Fleet;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>How good one rule is.</summary>
/// <param name="Rule">Its name.</param>
/// <param name="IsWatched">Whether the rule is there.</param>
/// <param name="Faults">Faults that it should have told of.</param>
/// <param name="Found">The share that it told of; null without such faults.</param>
/// <param name="MendedOtherwise">Faults never told of that somebody mended who had come for another ticket.</param>
/// <param name="Hours">Median hours from the fault to the telling, never told of ones counted as infinite.</param>
/// <param name="Sessions">Median boats meanwhile.</param>
/// <param name="FalseHealthy">False tickets a healthy station-season (for Falling use: false words).</param>
/// <param name="FalseAll">The same over all station-seasons.</param>
public sealed record RuleScore(
    string Rule,
    bool IsWatched,
    int Faults,
    Bounded? Found,
    int MendedOtherwise,
    Bounded Hours,
    Bounded Sessions,
    Bounded FalseHealthy,
    Bounded FalseAll);

/// <summary>How well one kind of fault is found.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Faults">Faults of this kind.</param>
/// <param name="Found">The share that was told of.</param>
/// <param name="Hours">Median hours to the telling.</param>
/// <param name="HoursToWord">Median hours to the first word, due soon or a ticket.</param>
public sealed record KindScore(FaultKind Kind, int Faults, Bounded Found, Bounded Hours, Bounded HoursToWord);

/// <summary>Idle tool beside the best plain limit, chosen in hindsight for this tool to give no more false alarms.</summary>
/// <param name="Tool">The tool's slug.</param>
/// <param name="Share">Share of boats that use it.</param>
/// <param name="Faults">How often it died or went missing.</param>
/// <param name="Hours">The rule's median delay [h].</param>
/// <param name="False">The rule's false tickets about it a healthy station-season.</param>
/// <param name="LimitDays">The plain limit [d].</param>
/// <param name="LimitFalse">Its false alarms a healthy station-season.</param>
/// <param name="LimitHours">Its median delay [h].</param>
public sealed record ToolScore(
    string Tool, double Share, int Faults, Bounded Hours, double False, double LimitDays, double LimitFalse, Bounded LimitHours);

/// <summary>A plain limit for all tools.</summary>
/// <param name="LimitHours">The limit [h].</param>
/// <param name="False">False alarms a healthy station-season, over all tools.</param>
/// <param name="Hours">Median delay over all tools [h].</param>
public sealed record LimitScore(double LimitHours, Bounded False, Bounded Hours);

/// <summary>How good the watch is at one traffic level.</summary>
/// <param name="Level">The level.</param>
/// <param name="Seasons">Station-seasons.</param>
/// <param name="Healthy">…of them healthy.</param>
/// <param name="Rules">By rule.</param>
/// <param name="Kinds">By kind of fault.</param>
/// <param name="Tools">Idle tool by tool.</param>
/// <param name="Limits">Plain limits.</param>
/// <param name="PooledHours">Idle tool's median delay over all tools [h].</param>
/// <param name="PooledLimitHours">The median delay of the best plain limits over all tools [h].</param>
/// <param name="MedianRatio">The median over all dead tools of the best plain limit's delay divided by the rule's.</param>
/// <param name="FullTanks">Times at which a tank filled to its capacity.</param>
/// <param name="WarnedTanks">The share of them that a ticket told of at least half a day before; null without any.</param>
/// <param name="Tank">Forecasts of the tank, and its pump-outs.</param>
public sealed record QualityScore(
    TrafficLevel Level,
    int Seasons,
    int Healthy,
    IReadOnlyList<RuleScore> Rules,
    IReadOnlyList<KindScore> Kinds,
    IReadOnlyList<ToolScore> Tools,
    IReadOnlyList<LimitScore> Limits,
    Bounded PooledHours,
    Bounded PooledLimitHours,
    Bounded MedianRatio,
    int FullTanks,
    Bounded? WarnedTanks,
    TankScore Tank)
{
    /// <summary>How good the forecasts of the charge are.</summary>
    public ChargeScore Charge { get; init; } = new([], []);

    /// <summary>False tickets of all rules together a station-season.</summary>
    public Bounded FalseTogether { get; init; }

    private static readonly double[] PlainLimits = [24, 72, 168];
    private const double ShortestLimit = 12;
    private const double LongestLimit = 24 * 120;
    private const double LimitStep = 1.02;

    /// <summary>Sums up the seasons of one level.</summary>
    /// <param name="outcomes">What the watch told in each.</param>
    /// <param name="limits">The uses of the tools in the same seasons, in the same order.</param>
    public static QualityScore Of(IReadOnlyList<SeasonOutcome> outcomes, IReadOnlyList<FixedLimits> limits)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        ArgumentNullException.ThrowIfNull(limits);
        List<(QualityFault Fate, FixedLimits Limits)> dead =
        [
            .. from pair in outcomes.Zip(limits)
               from fate in pair.First.Faults
               where fate.Fault.Kind is FaultKind.ToolDead or FaultKind.ToolMissing
               select (fate, pair.Second),
        ];
        List<FixedLimits> healthyLimits = [.. limits.Where(season => season.IsHealthy)];
        int healthy = Math.Max(1, healthyLimits.Count);
        List<ToolScore> tools = [.. QualityWorld.Tools.Select(tool => Tool(tool.Slug, tool.Share, outcomes, dead, healthyLimits))];
        Dictionary<string, double> best = tools.ToDictionary(tool => tool.Tool, tool => tool.LimitDays * 24);
        int full = outcomes.Sum(season => season.FullTanks);
        return new QualityScore(
            outcomes[0].Season.Level,
            outcomes.Count,
            healthyLimits.Count,
            [.. RuleNames().Select(rule => RuleOf(rule, outcomes))],
            [.. KindsOf(outcomes)],
            tools,
            [
                .. PlainLimits.Select(hours => new LimitScore(
                    hours,
                    Bounds.Rate(healthyLimits.Sum(season => QualityWorld.Tools.Sum(tool => season.FalseAlarms(tool.Slug, hours))), healthy),
                    Bounds.Median(dead.Select(one => one.Limits.DelayHours(hours))))),
            ],
            Bounds.Median(dead.Select(one => one.Fate.Hours)),
            Bounds.Median(dead.Select(one => one.Limits.DelayHours(best[one.Fate.Fault.Tool!]))),
            Bounds.Median(dead.Select(one => one.Limits.DelayHours(best[one.Fate.Fault.Tool!]) / one.Fate.Hours).Where(ratio => !double.IsNaN(ratio))),
            full,
            full == 0 ? null : Bounds.Share(outcomes.Sum(season => season.WarnedTanks), full),
            TankScore.Of(outcomes))
        {
            Charge = ChargeScore.Of([.. outcomes.Select(season => season.Charge)]),
            FalseTogether = Bounds.Rate(outcomes.Sum(season => season.Notices.Count(notice => notice is { IsTicket: true, IsTrue: false })), outcomes.Count),
        };
    }

    private static IEnumerable<string> RuleNames() =>
        Enum.GetNames<Rule>().Where(name => name is not (nameof(Rule.SampleDue) or nameof(Rule.NewFind) or nameof(Rule.PublicReport))).Concat(Enum.GetValues<FaultKind>().SelectMany(FaultRules.ExpectedOf)).Distinct();

    private static RuleScore RuleOf(string rule, IReadOnlyList<SeasonOutcome> outcomes)
    {
        // A weak tool may be told of by Idle tool as well, but it is Falling use that should see it: the first expected rule answers for a fault.
        List<QualityFault> fates = [.. outcomes.SelectMany(season => season.Faults).Where(fate => FaultRules.ExpectedOf(fate.Fault.Kind) is [var first, ..] && first == rule)];
        bool isWatched = Enum.IsDefined(typeof(Rule), rule);
        int False(IEnumerable<SeasonOutcome> of) => of.SelectMany(season => season.Notices)
            .Count(notice => !notice.IsTrue && notice.Rule.ToString() == rule && (notice.IsTicket || notice.Rule == Rule.FallingUse));
        List<SeasonOutcome> healthy = [.. outcomes.Where(season => QualityWorld.IsHealthy(season.Season))];
        return new RuleScore(
            rule,
            isWatched,
            fates.Count,
            fates.Count == 0 ? null : Bounds.Share(fates.Count(fate => fate.Told is not null), fates.Count),
            fates.Count(fate => fate.IsMendedOtherwise),
            Bounds.Median(fates.Select(fate => fate.Hours)),
            Bounds.Median(fates.Select(fate => fate.Sessions)),
            Bounds.Rate(False(healthy), Math.Max(1, healthy.Count)),
            Bounds.Rate(False(outcomes), outcomes.Count));
    }

    private static IEnumerable<KindScore> KindsOf(IReadOnlyList<SeasonOutcome> outcomes) =>
        from fate in outcomes.SelectMany(season => season.Faults)
        where FaultRules.ExpectedOf(fate.Fault.Kind).Count > 0
        group fate by fate.Fault.Kind into kind
        orderby kind.Key
        select new KindScore(
            kind.Key, kind.Count(), Bounds.Share(kind.Count(fate => fate.Told is not null), kind.Count()), Bounds.Median(kind.Select(fate => fate.Hours)),
            Bounds.Median(kind.Select(fate => fate.HoursToWord)));

    private static ToolScore Tool(
        string slug,
        double share,
        IReadOnlyList<SeasonOutcome> outcomes,
        List<(QualityFault Fate, FixedLimits Limits)> dead,
        List<FixedLimits> healthy)
    {
        int falseTickets = outcomes.Where(season => QualityWorld.IsHealthy(season.Season)).SelectMany(season => season.Notices)
            .Count(notice => notice is { Rule: Rule.IdleTool, IsTicket: true, IsTrue: false } && notice.Part == slug);
        double limit = ShortestLimit;
        while (limit < LongestLimit && healthy.Sum(season => season.FalseAlarms(slug, limit)) > falseTickets)
        {
            limit *= LimitStep;
        }

        List<(QualityFault Fate, FixedLimits Limits)> own = [.. dead.Where(one => one.Fate.Fault.Tool == slug)];
        double seasons = Math.Max(1, healthy.Count);
        return new ToolScore(
            slug,
            share,
            own.Count,
            Bounds.Median(own.Select(one => one.Fate.Hours)),
            falseTickets / seasons,
            limit / 24,
            healthy.Sum(season => season.FalseAlarms(slug, limit)) / seasons,
            Bounds.Median(own.Select(one => one.Limits.DelayHours(limit))));
    }
}
