namespace StationFleet.Domain.Watch;

/// <summary>A silence that ended.</summary>
/// <param name="Until">When the next report arrived.</param>
/// <param name="Length">How long it was.</param>
public readonly record struct PastSilence(DateTimeOffset Until, TimeSpan Length);

/// <summary>When a station's reports arrive, in the order of arriving: how long it is usually silent, and whether its clock is right.</summary>
public sealed record ReportRhythm
{
    private const int GapsKept = 21;
    private const int SilencesKept = 8;
    private const int LagsKept = 4;
    private static readonly TimeSpan SilenceFrom = TimeSpan.FromHours(1);
    private static readonly TimeSpan Remembered = TimeSpan.FromDays(60);

    /// <summary>Within what time the station's newest report promised the next one [s]; null when it did not say.</summary>
    public double? UpdateWithinSeconds { get; init; }

    /// <summary>The last gaps between reports [s], oldest first; the array is never changed, only replaced.</summary>
    public double[] GapsSeconds { get; init; } = [];

    /// <summary>The longest silences of the last 60 days, of an hour and more; the array is never changed, only replaced.</summary>
    public PastSilence[] Silences { get; init; } = [];

    /// <summary>How far the newest reading of each of the last reports lay behind its arrival [s]; likewise.</summary>
    public double[] LagsSeconds { get; init; } = [];

    /// <summary>When the first of those reports arrived.</summary>
    public DateTimeOffset? LagsSince { get; init; }

    /// <summary>Since when every report has come with times in the future; null while they are right.</summary>
    public DateTimeOffset? AheadSince { get; init; }

    /// <summary>How many reports have come so.</summary>
    public int AheadReports { get; init; }

    /// <summary>How far ahead the newest such time was [s].</summary>
    public double AheadSeconds { get; init; }

    /// <summary>The usual gap between two reports; null while fewer than five are known.</summary>
    internal TimeSpan? UsualGap => GapsSeconds.Length < 5 ? null : TimeSpan.FromSeconds(GapsSeconds.Order().ElementAt(GapsSeconds.Length / 2));

    /// <summary>The longest silence of the last 60 days; null when there was none of an hour.</summary>
    internal TimeSpan? LongestSilence => Silences.Length == 0 ? null : Silences.Max(silence => silence.Length);

    /// <summary>The rhythm after one more report.</summary>
    /// <param name="report">The report.</param>
    /// <param name="lastHeard">When the report before it arrived; null before the first.</param>
    internal ReportRhythm After(WatchReport report, DateTimeOffset? lastHeard)
    {
        ReportRhythm rhythm = lastHeard is { } before && report.Received > before ? WithGap(before, report.Received) : this;
        rhythm = rhythm with
        {
            AheadSince = report.Ahead is null ? null : AheadSince ?? report.Received,
            AheadReports = report.Ahead is null ? 0 : AheadReports + 1,
            AheadSeconds = report.Ahead?.TotalSeconds ?? 0,
            UpdateWithinSeconds = report.UpdateWithin?.TotalSeconds,
        };
        return report.Measurements.Count == 0 ? rhythm : rhythm.WithLag(report);
    }

    private ReportRhythm WithGap(DateTimeOffset before, DateTimeOffset received)
    {
        TimeSpan gap = received - before;
        PastSilence[] silences = Silences;
        if (gap >= SilenceFrom || (silences.Length > 0 && received - silences.Min(s => s.Until) > Remembered))
        {
            silences =
            [
                .. silences.Where(silence => received - silence.Until <= Remembered)
                    .Concat(gap >= SilenceFrom ? [new PastSilence(received, gap)] : [])
                    .OrderByDescending(silence => silence.Length).Take(SilencesKept).OrderBy(silence => silence.Until),
            ];
        }

        return this with { GapsSeconds = [.. GapsSeconds.TakeLast(GapsKept - 1), gap.TotalSeconds], Silences = silences };
    }

    private ReportRhythm WithLag(WatchReport report)
    {
        double lag = (report.Received - report.Measurements.Max(measurement => measurement.At)).TotalSeconds;

        // A backlog that is worked off, or a step of the clock, breaks the row of equal lags.
        bool isAlike = LagsSeconds.Length > 0 && Math.Abs(lag - LagsSeconds[^1]) <= ClockWrong.AlikeSeconds;
        return this with
        {
            LagsSeconds = isAlike ? [.. LagsSeconds.TakeLast(LagsKept - 1), lag] : [lag],
            LagsSince = isAlike ? LagsSince : report.Received,
        };
    }
}
