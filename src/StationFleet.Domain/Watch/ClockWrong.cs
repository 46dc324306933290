namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Clock wrong: a station's reports come with times in the future, or each lies behind its arrival by the same long while,
/// as a late report would not.
/// </summary>
public static class ClockWrong
{
    /// <summary>Lags that differ by less are alike [s].</summary>
    internal const double AlikeSeconds = 120;
    private const int AheadReports = 2;
    private const int LagsNeeded = 4;
    private const double BehindSeconds = 600;
    private static readonly TimeSpan BehindFor = TimeSpan.FromHours(1);

    /// <summary>How wrong a station's clock is [s]; positive: ahead; null while it seems right.</summary>
    /// <param name="rhythm">When its reports arrived.</param>
    /// <param name="lastHeard">When the newest one did.</param>
    public static double? AheadBy(ReportRhythm rhythm, DateTimeOffset? lastHeard)
    {
        ArgumentNullException.ThrowIfNull(rhythm);
        if (rhythm.AheadReports >= AheadReports)
        {
            return rhythm.AheadSeconds;
        }

        return rhythm.LagsSeconds.Length >= LagsNeeded && lastHeard - rhythm.LagsSince >= BehindFor && rhythm.LagsSeconds[^1] > BehindSeconds
            ? -rhythm.LagsSeconds[^1]
            : null;
    }

    /// <summary>The numbers behind it; null while the clock seems right.</summary>
    /// <param name="rhythm">When its reports arrived.</param>
    /// <param name="lastHeard">When the newest one did.</param>
    public static ClockWrongEvidence? Evidence(ReportRhythm rhythm, DateTimeOffset? lastHeard) =>
        AheadBy(rhythm, lastHeard) is { } seconds ? new ClockWrongEvidence(seconds, lastHeard!.Value) : null;
}
