using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Not reporting: the station is silent. After three missed reports that shows; a ticket waits until the station has been
/// silent for much longer than it was in the last two months, since a station in a dead spot comes back by itself.
/// </summary>
public static class NotReporting
{
    /// <summary>A station that comes back within this time after its ticket was raised needs nobody: the rule is self-closing.</summary>
    public static readonly TimeSpan Grace = TimeSpan.FromHours(24);

    private const int ReportsMissed = 3;
    private const double TimesLongest = 1.5;
    private static readonly TimeSpan SteadyBeforeTicket = TimeSpan.FromHours(12);
    private static readonly TimeSpan LeastBeforeTicket = TimeSpan.FromHours(40);
    private static readonly TimeSpan MostBeforeTicket = TimeSpan.FromHours(72);
    private static readonly TimeSpan UntilKnown = TimeSpan.FromDays(14);

    /// <summary>How long a station may be silent before that shows: its limit, but never less than three of the gaps that it promised or, where it promises nothing, usually makes.</summary>
    /// <param name="setup">The station's setup.</param>
    /// <param name="rhythm">When its reports arrived.</param>
    public static TimeSpan Limit(StationSetup setup, ReportRhythm rhythm)
    {
        ArgumentNullException.ThrowIfNull(setup);
        ArgumentNullException.ThrowIfNull(rhythm);
        return Longer(TimeSpan.FromHours(setup.Rules.SilentAfterHours), ReportsMissed * Expected(setup, rhythm));
    }

    /// <summary>How long a station may be silent before somebody has to go.</summary>
    /// <param name="rhythm">When its reports arrived.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static TimeSpan TicketLimit(ReportRhythm rhythm, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(rhythm);
        ArgumentNullException.ThrowIfNull(context);

        // A station that is hardly known may well stand in a dead spot, too.
        TimeSpan limit = (rhythm.LongestSilence, now - context.WatchedFrom < UntilKnown) switch
        {
            (null, false) => SteadyBeforeTicket,
            (null, true) => LeastBeforeTicket,
            ({ } longest, _) => Longer(LeastBeforeTicket, TimesLongest * longest),
        };
        return Longer(limit < MostBeforeTicket ? limit : MostBeforeTicket, Limit(context.Setup, rhythm));
    }

    /// <summary>How long the station has been silent, the times left out in which our own server was down.</summary>
    /// <param name="lastHeard">When its last report arrived; null when none ever did.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static TimeSpan Silence(DateTimeOffset? lastHeard, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(context);
        DateTimeOffset since = Instants.Later(Instants.Later(context.WatchedFrom, lastHeard), context.Quiet.LastEnd(now));
        TimeSpan ours = TimeSpan.Zero;
        foreach (UtcInterval down in context.Setup.ServerDown)
        {
            DateTimeOffset start = down.Start > since ? down.Start : since;
            DateTimeOffset end = down.End < now ? down.End : now;
            ours += end > start ? end - start : TimeSpan.Zero;
        }

        return now - since - ours;
    }

    /// <summary>The numbers behind the judgement.</summary>
    /// <param name="lastHeard">When its last report arrived; null when none ever did.</param>
    /// <param name="setup">The station's setup.</param>
    /// <param name="rhythm">When its reports arrived.</param>
    public static NotReportingEvidence Evidence(DateTimeOffset? lastHeard, StationSetup setup, ReportRhythm rhythm)
    {
        ArgumentNullException.ThrowIfNull(rhythm);
        return new NotReportingEvidence(
            lastHeard,
            Expected(setup, rhythm).TotalSeconds,
            rhythm.LongestSilence?.TotalSeconds,
            setup.SilentTogether is { } together && together.Codes.Contains(setup.Code) ? together.OthersOf(setup.Code) : null);
    }

    // What the station says itself, else what it usually does.
    private static TimeSpan Expected(StationSetup setup, ReportRhythm rhythm) =>
        rhythm.UpdateWithinSeconds is { } promised ? TimeSpan.FromSeconds(promised)
        : rhythm.UsualGap is { } usual ? Longer(usual, setup.ReportEvery)
        : setup.ReportEvery;

    private static TimeSpan Longer(TimeSpan a, TimeSpan b) => a > b ? a : b;
}
