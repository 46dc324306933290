using StationFleet.Domain.Fleet;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Telemetry;
using static StationFleet.Domain.Time.Instants;

namespace StationFleet.Domain.Watch;

/// <summary>How odd it is that a tool is passed over at present.</summary>
/// <param name="PassedOver">Use sessions that passed it over since its last use.</param>
/// <param name="Chance">How likely a healthy tool is passed over so often, 0 to 1; 1 when nothing passed it over.</param>
/// <param name="AlarmUnder">The chance under which it is an alarm.</param>
/// <param name="Share">Share of the sessions that pick it up, as learned, 0 to 1.</param>
/// <param name="MoreSessions">After about how many more sessions it would be an alarm; 0 when it is one.</param>
/// <param name="DaysToAlarm">How many days those take at the station's present traffic.</param>
public sealed record IdleVerdict(int PassedOver, double Chance, double AlarmUnder, double Share, int MoreSessions, double DaysToAlarm)
{
    /// <summary>Whether it is an alarm.</summary>
    public bool IsIdle => Chance < AlarmUnder;
}

/// <summary>
/// The rule Idle tool: use sessions pass a tool over more often than they would a healthy one. The chance is that of a
/// beta-binomial whose share scatters from day to day, averaged over what the share may be; the alarm's level follows from how
/// many false alarms a season may bring.
/// </summary>
/// <remarks>
/// P₀ = mean over nine quantiles μ of Beta(a, b) of Π over days of P(no use among the day's sessions | μ, φ). Each gap between
/// two uses is one test, and there are about sessions a day × share × days of a season of them; so the level is
/// min(0.02, budget / that number). φ = 12, halved (not under 5) whenever a person finds that an alarmed tool was fine, doubled
/// for each year without such a finding.
/// </remarks>
public static class IdleTool
{
    /// <summary>The days of a season [d], over which the budget of false alarms is spread.</summary>
    internal const double SeasonDays = 168;

    private const int NodeCount = 9;
    private const double HighestLevel = 0.02;
    private const double UsualScatter = 12;
    private const double LeastScatter = 5;
    private const int MostSessionsLookedAhead = 2000;

    /// <summary>How odd a tool's present run of misses is.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    /// <returns>The verdict; null while the tool's total was never read.</returns>
    public static IdleVerdict? Judge(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        if (Of(tool, facts) is not { Last: not null } use)
        {
            return null;
        }

        double[] nodes = BetaBinomial.Nodes(ToolShare.A(use), ToolShare.B(use), NodeCount);
        double scatter = Scatter(context.Findings, now);
        double level = Level(use, facts, context);
        double chance = Chance(use.Run, nodes, scatter);
        int more = MoreSessions(use.Run, nodes, scatter, level, facts.Sessions.PerDay);
        return new IdleVerdict(ToolShare.Misses(use), chance, level, ToolShare.Mean(use), more, more / facts.Sessions.PerDay);
    }

    /// <summary>Whether a tool is idle; quicker than a whole verdict, since most of the time it plainly is not.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    internal static bool IsIdle(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        if (Of(tool, facts) is not { Run.Length: > 0 } use)
        {
            return false;
        }

        // By Jensen's inequality no healthy tool is passed over with less than this chance, half of it left for the quantiles.
        double level = Level(use, facts, context);
        int misses = ToolShare.Misses(use);
        if (0.5 * Math.Pow(1 - ToolShare.Mean(use), misses) > level)
        {
            return false;
        }

        double[] nodes = BetaBinomial.Nodes(ToolShare.A(use), ToolShare.B(use), NodeCount);
        return Chance(use.Run, nodes, Scatter(context.Findings, now)) < level;
    }

    /// <summary>Whether a tool has been silent for its plain limit of days; false when it has none.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    internal static bool IsPastItsDays(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now) =>
        tool.IdleAfterDays is { } days && (now - WatchedSince(tool, facts, context, now)).TotalDays >= days;

    /// <summary>The numbers behind an alarm.</summary>
    /// <param name="tool">The tool.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static IdleToolEvidence Evidence(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(tool);
        DateTimeOffset since = WatchedSince(tool, facts, context, now);
        DateTimeOffset? lastUse = Of(tool, facts)?.LastUse;
        return Judge(tool, facts, context, now) is { } verdict && (verdict.IsIdle || tool.IdleAfterDays is null)
            ? new IdleToolEvidence(tool.Name, lastUse, since, verdict.PassedOver, Rounded(1 / verdict.Chance), null)
            : new IdleToolEvidence(tool.Name, lastUse, since, ToolShare.Misses(Of(tool, facts) ?? new ToolFacts()), null, tool.IdleAfterDays);
    }

    /// <summary>How likely a healthy tool is passed over so often.</summary>
    /// <param name="run">The sessions that passed it over, by day.</param>
    /// <param name="shares">Equally likely shares of the sessions that pick it up.</param>
    /// <param name="scatter">φ: the less, the more the share scatters from day to day.</param>
    internal static double Chance(DayRun[] run, double[] shares, double scatter)
    {
        double sum = 0;
        foreach (double share in shares)
        {
            double log = 0;
            foreach (DayRun day in run)
            {
                log += BetaBinomial.LogNone(day.Sessions, share, scatter);
            }

            sum += Math.Exp(log);
        }

        return sum / shares.Length;
    }

    private static double Level(ToolFacts tool, StationFacts facts, FactsContext context)
    {
        double tests = Math.Max(10, facts.Sessions.PerDay * ToolShare.Mean(tool) * SeasonDays);
        return Math.Min(HighestLevel, context.Setup.Rules.IdleFalseAlarms / tests);
    }

    private static double Scatter(IReadOnlyList<ToolFinding> findings, DateTimeOffset now)
    {
        (double scatter, DateTimeOffset? last) = (UsualScatter, null);
        foreach (ToolFinding finding in findings)
        {
            if (finding is { WasFine: true } && finding.At <= now)
            {
                scatter = Math.Max(LeastScatter, Restored(scatter, last, finding.At) / 2);
                last = finding.At;
            }
        }

        return Restored(scatter, last, now);
    }

    private static double Restored(double scatter, DateTimeOffset? since, DateTimeOffset now) =>
        since is { } last ? Math.Min(UsualScatter, scatter * Math.Pow(2, Math.Floor((now - last).TotalDays / 365))) : scatter;

    private static int MoreSessions(DayRun[] run, double[] shares, double scatter, double level, double perDay)
    {
        // The days to come are taken as alike.
        int each = Math.Max(1, (int)Math.Round(perDay));
        double Ahead(int more)
        {
            double sum = 0;
            foreach (double share in shares)
            {
                double log = (more / each * BetaBinomial.LogNone(each, share, scatter)) + BetaBinomial.LogNone(more % each, share, scatter);
                foreach (DayRun day in run)
                {
                    log += BetaBinomial.LogNone(day.Sessions, share, scatter);
                }

                sum += Math.Exp(log);
            }

            return sum / shares.Length;
        }

        (int low, int high) = (0, MostSessionsLookedAhead);
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = Ahead(middle) < level ? (low, middle) : (middle + 1, high);
        }

        return low;
    }

    /// <summary>«1 in 9,000», not «1 in 9,137»; and nobody believes more than a million.</summary>
    internal static double Rounded(double oneIn)
    {
        double capped = Math.Min(1_000_000, oneIn);
        double step = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(1, capped))));
        return Math.Round(capped / step) * step;
    }

    // Silence counts from the last use, but not from before the tool hung there, was found to be fine or was required to work.
    private static DateTimeOffset WatchedSince(ToolSetup tool, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        DateTimeOffset since = Later(tool.Installed, context.WatchedFrom);
        since = Later(since, Of(tool, facts)?.LastUse);
        since = Later(since, context.Quiet.LastEnd(now));
        return Later(since, context.LastFinding(MeasurementName.Uses(tool.Slug), now));
    }

    private static ToolFacts? Of(ToolSetup tool, StationFacts facts) => facts.Tools.GetValueOrDefault(MeasurementName.Uses(tool.Slug));
}
