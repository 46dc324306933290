using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Not reporting: the station is silent.</summary>
public static class NotReporting
{
    /// <summary>A station that comes back within this time after its ticket was raised needs nobody: the rule is self-closing.</summary>
    public static readonly TimeSpan Grace = TimeSpan.FromHours(24);

    private const int ReportsMissed = 3;

    /// <summary>How long a station may be silent: its limit, but never less than three reports.</summary>
    /// <param name="setup">The station's setup.</param>
    public static TimeSpan Limit(StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(setup);
        TimeSpan hours = TimeSpan.FromHours(setup.Rules.SilentAfterHours);
        TimeSpan reports = ReportsMissed * setup.ReportEvery;
        return hours > reports ? hours : reports;
    }

    /// <summary>Whether the station has been silent for longer than its limit.</summary>
    /// <param name="lastHeard">When its last report arrived; null when none ever did.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static bool IsSilent(DateTimeOffset? lastHeard, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(context);
        DateTimeOffset since = lastHeard > context.WatchedFrom ? lastHeard.Value : context.WatchedFrom;
        since = context.Quiet.LastEnd(now) is { } quietEnd && quietEnd > since ? quietEnd : since;
        return now - since > Limit(context.Setup);
    }

    /// <summary>The numbers behind the judgement.</summary>
    /// <param name="lastHeard">When its last report arrived; null when none ever did.</param>
    /// <param name="setup">The station's setup.</param>
    public static NotReportingEvidence Evidence(DateTimeOffset? lastHeard, StationSetup setup)
    {
        ArgumentNullException.ThrowIfNull(setup);
        return new NotReportingEvidence(lastHeard, setup.ReportEvery.TotalSeconds);
    }
}
